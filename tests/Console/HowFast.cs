using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Farberth.Console.Tests;

/// <summary>
/// Figures, printed and not asserted:
/// <c>dotnet test --project tests/Console -c Release -- -explicit only -class "*HowFast" -showLiveOutput</c>.
/// </summary>
public partial class HowFast(Marina marina, ITestOutputHelper output) : IClassFixture<Marina>
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
        var boater = await BoatersPage(hollis);
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
        var taken = new List<double>();
        for (var change = 0; change < Changes; change++)
        {
            var volts = 118 + change * 0.1;
            // Looked at with every frame that is painted: a locator's own looks are up to half a second apart.
            var seen = vic.Page.WaitForFunctionAsync(Reads, volts.ToString("0.0", CultureInfo.InvariantCulture));
            var began = Stopwatch.GetTimestamp();
            marina.Volts = volts;
            await marina.Say("G1", volts, 9);
            await seen;
            taken.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
        }
        await ending.CancelAsync();
        output.WriteLine($"reading to screen: {Spread(taken)}; {await crowd / 1000.0:0} thousand other readings meanwhile");
    }

    [Fact(Explicit = true)]
    public async Task Two_hundred_consoles_and_two_thousand_boaters_pages()
    {
        await using var hollis = await marina.As(Marina.Harbormaster);
        var boater = await BoatersPage(hollis);
        output.WriteLine($"a tick alone: {await Tick()}");
        var watching = new List<Visitor>();
        for (var console = 0; console < int.Parse(Environment.GetEnvironmentVariable("CONSOLES") ?? "200", CultureInfo.InvariantCulture); console++)
        {
            watching.Add(await marina.As(Marina.Viewer));
            await watching[^1].Go("/");
        }
        output.WriteLine($"with {watching.Count} consoles: {await Tick()}");
        using var client = new HttpClient { BaseAddress = marina.Home };
        var began = Stopwatch.GetTimestamp();
        await Parallel.ForEachAsync(Enumerable.Range(0, 2000), new ParallelOptions { MaxDegreeOfParallelism = 20, CancellationToken = Cancel },
            async (_, stop) => Assert.True((await client.GetStringAsync(boater, stop)).Length > 1000));
        output.WriteLine($"2000 boater's pages beside them in {Stopwatch.GetElapsedTime(began).TotalSeconds:0.0} s: {await Tick()}");
        foreach (var visitor in watching)
            await visitor.DisposeAsync();
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

    async Task<string> BoatersPage(Visitor harbormaster)
    {
        await harbormaster.Go("/boats");
        var page = harbormaster.Page;
        if (await page.Locator("tr", new() { HasTextString = "Otterling" }).CountAsync() == 0)
        {
            await page.GetByLabel("Slip", new() { Exact = true }).FillAsync("G-2");
            await page.GetByLabel("Boat", new() { Exact = true }).FillAsync("Otterling");
            await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        }
        return new Uri((await page.GetByRole(AriaRole.Link, new() { Name = "link", Exact = true }).First.GetAttributeAsync("href"))!).PathAndQuery;
    }

    /// <summary>The service's own work: how long its ticks took over the next ten seconds.</summary>
    async Task<string> Tick()
    {
        var (sum, count) = await Ticks();
        using var tenSeconds = new PeriodicTimer(TimeSpan.FromSeconds(10));
        await tenSeconds.WaitForNextTickAsync(Cancel);
        var (sumThen, countThen) = await Ticks();
        return $"{countThen - count:0} ticks in 10 s, {1000 * (sumThen - sum) / (countThen - count):0.00} ms each";
    }

    async Task<(double Sum, double Count)> Ticks()
    {
        using var client = new HttpClient { BaseAddress = marina.Home };
        var told = await client.GetStringAsync("/metrics", Cancel);
        return (Value(told, "sum"), Value(told, "count"));
    }

    static double Value(string told, string which) => TickLine().Matches(told).Where(line => line.Groups["which"].Value == which)
        .Sum(line => double.Parse(line.Groups["value"].Value, CultureInfo.InvariantCulture));

    static string Spread(List<double> milliseconds)
    {
        milliseconds.Sort();
        return $"median {milliseconds[milliseconds.Count / 2]:0} ms, most {milliseconds[^1]:0} ms of {milliseconds.Count}";
    }

    [GeneratedRegex(@"^farberth_tick_duration_seconds_(?<which>sum|count)\S* (?<value>[\d.eE+-]+)", RegexOptions.Multiline)]
    private static partial Regex TickLine();
}
