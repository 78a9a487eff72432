using System.Diagnostics;
using System.Globalization;

namespace Farberth.Console.Tests;

/// <summary>
/// Figures, printed and not asserted:
/// <c>dotnet test --project tests/Console -c Release -- -explicit only -class "*HowFast" -showLiveOutput</c>.
/// </summary>
public class HowFast(Marina marina, ITestOutputHelper output) : IClassFixture<Marina>
{
    const int Loads = 15, Changes = 20;

    /// <summary>Paint Timing (W3C), also where the paint is still to come.</summary>
    const string Paint = "() => new Promise(done => new PerformanceObserver(list => list.getEntriesByName('first-contentful-paint').forEach(one => done(one.startTime)))"
        + ".observe({ type: 'paint', buffered: true }))";

    /// <summary>The row of the inner pedestal has these volts.</summary>
    const string Reads = "volts => [...document.querySelectorAll('tr')].some(row => row.querySelector('th')?.textContent === 'G1' && [...row.querySelectorAll('td')].some(one => one.textContent === volts))";

    static readonly CancellationToken Cancel = TestContext.Current.CancellationToken;

    [Fact(Explicit = true)]
    public async Task The_first_paint_of_the_console_and_of_the_boaters_page()
    {
        await using var hollis = await marina.As(Marina.Harbormaster);
        var boater = await hollis.WritesDownOtterling();
        await Painted("console", () => marina.As(Marina.Viewer), "/");
        await Painted("boater's page", () => marina.Chromium.Visit(marina.Home, width: 390), boater);
    }

    [Fact(Explicit = true)]
    public async Task From_a_reading_to_the_screen_at_a_thousand_readings_a_second()
    {
        await using var vic = await marina.As(Marina.Viewer);
        await vic.Go("/bench/G");
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        var crowd = marina.Crowd(1000, ending.Token);
        var taken = await ToScreen(marina, vic, 0, Changes);
        await ending.CancelAsync();
        output.WriteLine($"reading to screen: {Spread(taken)}; {await crowd / 1000.0:0} thousand other readings meanwhile");
    }

    /// <summary>The inner pedestal's volts at a change, to a tenth: other ones than at the changes before.</summary>
    internal static double Volts(int change) => 117 + change % 40 * 0.1;

    /// <summary>So many changes of the inner pedestal's volts, from publishing to the frame that shows them, in milliseconds.</summary>
    /// <param name="vic">Has the bench of the dock open.</param>
    internal static async Task<List<double>> ToScreen(Marina marina, Visitor vic, int first, int changes)
    {
        var taken = new List<double>();
        for (var change = first; change < first + changes; change++)
        {
            var volts = Volts(change);
            // Looked at with every frame that is painted: a locator's own looks are up to half a second apart.
            var seen = vic.Page.WaitForFunctionAsync(Reads, volts.ToString("0.0", CultureInfo.InvariantCulture));
            var began = Stopwatch.GetTimestamp();
            await marina.Say(volts);
            await seen;
            taken.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
        }
        return taken;
    }

    async Task Painted(string what, Func<Task<Visitor>> visit, string path)
    {
        var taken = new List<double>();
        for (var load = 0; load < Loads; load++)
        {
            await using var visitor = await visit();
            await visitor.Go(path, isLive: false);
            taken.Add(await visitor.Page.EvaluateAsync<double>(Paint));
        }
        output.WriteLine($"first contentful paint of the {what}: {Spread(taken)}");
    }

    internal static string Spread(List<double> milliseconds)
    {
        milliseconds.Sort();
        return milliseconds.Count == 0 ? "none" : $"median {milliseconds[milliseconds.Count / 2]:0} ms, 99 % {milliseconds[milliseconds.Count * 99 / 100]:0} ms, most {milliseconds[^1]:0} ms of {milliseconds.Count}";
    }
}
