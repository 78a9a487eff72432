using System.Diagnostics;
using System.Globalization;

namespace Farberth.Console.Tests;

/// <summary>The worst that a dock office may see, many times at once. <see cref="HowFastWithVisitors"/> says how to start it.</summary>
public class HowFastWithVisitorsAndThirtyAlarms(CrowdedMarina marina, ITestOutputHelper output) : HowFastWithVisitors(marina, output), IClassFixture<CrowdedMarina>
{
    /// <summary>The boats of the pedestal that rested are too much again, which raises alarms; those of the next one rest.</summary>
    protected override void BeginRound(int round) => marina.Resting = 3 + round % (CrowdedMarina.Pedestals - 3);
}

/// <summary>A small site, many times at once.</summary>
public class HowFastWithVisitorsOfASmallSite(Marina marina, ITestOutputHelper output) : HowFastWithVisitors(marina, output), IClassFixture<Marina>;

/// <summary>
/// What the service's own work takes with nobody there, with 200 open consoles, and with 2,000 boaters' pages beside them, at 1,000 readings a second.
/// Figures, printed and not asserted: <c>dotnet test --project tests/Console -c Release -- -explicit only -class "*HowFastWith*" -showLiveOutput</c>;
/// <c>CONSOLES=50</c> and <c>PAGES=500</c> for other numbers. The visitors and one browser take their part of the same processors.
/// </summary>
public abstract class HowFastWithVisitors(Marina marina, ITestOutputHelper output)
{
    /// <summary>Readings a second; rounds of so many changes of which each is followed to the screen, and so many to each console.</summary>
    const int Readings = 1000, Rounds = 12, Changes = 6;

    /// <summary>As boater.js renews its page.</summary>
    static readonly TimeSpan Renewal = TimeSpan.FromSeconds(30);

    static readonly CancellationToken Cancel = TestContext.Current.CancellationToken;

    [Fact(Explicit = true)]
    public async Task Two_hundred_consoles_and_two_thousand_boaters_pages()
    {
        await using var hollis = await marina.As(Marina.Harbormaster);
        var boater = await hollis.WritesDownOtterling();
        await hollis.Go("/bench/G");
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        var crowd = marina.Crowd(Readings, ending.Token);
        var open = new List<OpenConsole>();
        try
        {
            await Measure("nobody but one browser", hollis, open);
            var cookies = await OpenConsole.SignIn(marina.Home, Marina.Viewer, Marina.Password, Cancel);
            while (open.Count < Wanted("CONSOLES", 200))
                open.Add(await OpenConsole.Open(marina.Home, cookies, "/", Cancel));
            await Measure($"{open.Count} consoles", hollis, open);
            var pages = Wanted("PAGES", 2000);
            var boaters = Read(boater, pages, ending.Token);
            await Measure($"{open.Count} consoles, {pages} boaters' pages", hollis, open);
            await ending.CancelAsync();
            output.WriteLine($"boaters' pages: {HowFast.Spread(await boaters)}");
        }
        finally
        {
            await ending.CancelAsync();
            output.WriteLine($"{open.Count} consoles, {await crowd / 1000.0:0} thousand readings");
            foreach (var console in open)
                await console.DisposeAsync();
        }
    }

    protected virtual void BeginRound(int round)
    {
    }

    async Task Measure(string visitors, Visitor hollis, List<OpenConsole> open)
    {
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        var told = new HowLate(marina);
        var listening = told.Listen(ending.Token);
        var (before, ticks, renders, began) = (marina.Used, await marina.Ticks(Cancel), open.Sum(console => console.Renders), Stopwatch.GetTimestamp());
        var (mine, bytes) = (Environment.CpuUsage.TotalTime, open.Sum(console => console.Bytes));
        var (toScreen, toConsoles) = (new List<double>(), new List<double>());
        for (var round = 0; round < Rounds; round++)
        {
            BeginRound(round);
            toScreen.AddRange(await HowFast.ToScreen(marina, hollis, 0, open.Count == 0 ? 2 * Changes : Changes));
            toConsoles.AddRange(await ToConsoles(open, Changes));
        }
        var seconds = Stopwatch.GetElapsedTime(began).TotalSeconds;
        var after = marina.Used;
        await ending.CancelAsync();
        await listening;
        output.WriteLine($"{visitors}, over {seconds:0} s:");
        output.WriteLine($"  one dock's tick: {(await marina.Ticks(Cancel)).Since(ticks)}");
        output.WriteLine($"  from the tick's moment to a client of the broker: {HowFast.Spread(told.States)}; a new alarm: {HowFast.Spread(told.Alarms)}");
        output.WriteLine($"  from a reading to the browser's screen: {HowFast.Spread(toScreen)}");
        output.WriteLine($"  from a reading to each console: {HowFast.Spread(toConsoles)}; {(open.Sum(console => console.Renders) - renders) / seconds:0} renders/s, {(open.Sum(console => console.Bytes) - bytes) / seconds / 1000:0} kB/s");
        output.WriteLine($"  the service: {(after.Processor - before.Processor).TotalSeconds / seconds:0.00} of one processor, {after.Bytes / 1e6:0} MB; the visitors {(Environment.CpuUsage.TotalTime - mine).TotalSeconds / seconds:0.00}");
    }

    /// <summary>So many changes more, to each console, in milliseconds.</summary>
    async Task<List<double>> ToConsoles(List<OpenConsole> open, int first)
    {
        var taken = new List<double>();
        for (var change = first; change < first + Changes; change++)
        {
            var (volts, began) = (HowFast.Volts(change), Stopwatch.GetTimestamp());
            var shown = open.Select(async console =>
            {
                await console.Shows(volts.ToString("0.0", CultureInfo.InvariantCulture));
                return Stopwatch.GetElapsedTime(began).TotalMilliseconds;
            }).ToList();
            await marina.Say(volts);
            taken.AddRange(await Task.WhenAll(shown));
        }
        return taken;
    }

    /// <summary>One page after another, evenly, as so many open ones would renew themselves.</summary>
    /// <returns>How long each took, in milliseconds.</returns>
    async Task<List<double>> Read(string page, int pages, CancellationToken end)
    {
        using var client = new HttpClient { BaseAddress = marina.Home };
        var reading = new List<Task<double>>();
        using var timer = new PeriodicTimer(Renewal / pages);
        try
        {
            while (await timer.WaitForNextTickAsync(end))
                reading.Add(Read(client, page));
        }
        catch (OperationCanceledException)
        {
            // Long enough.
        }
        return [.. await Task.WhenAll(reading)];
    }

    static async Task<double> Read(HttpClient client, string page)
    {
        var began = Stopwatch.GetTimestamp();
        Assert.True((await client.GetStringAsync(page, Cancel)).Length > 1000);
        return Stopwatch.GetElapsedTime(began).TotalMilliseconds;
    }

    static int Wanted(string name, int otherwise) => int.Parse(Environment.GetEnvironmentVariable(name) ?? $"{otherwise}", CultureInfo.InvariantCulture);
}
