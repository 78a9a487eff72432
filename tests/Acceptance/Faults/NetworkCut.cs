using System.Globalization;
using System.Text.Json.Nodes;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Faults;

/// <summary>
/// The cable between the pedestals and the broker is pulled, then the one between the broker and the service; each until whoever is cut off has seen it,
/// or for ten minutes. The broker is in a network namespace of its own, with a cable to each. The long form:
/// <c>./Farberth.Acceptance.Tests -class '*.NetworkCut' -explicit only -showliveoutput</c>; CUT_SECONDS asks for another time.
/// </summary>
public class NetworkCut(ITestOutputHelper output)
{
    const int PedestalsCable = 0, ServiceCable = 1;

    static int LongSeconds => int.TryParse(Environment.GetEnvironmentVariable("CUT_SECONDS"), out var seconds) ? seconds : 600;

    [Fact]
    public Task All_that_is_published_over_short_cuts_arrives() => Arrives(TimeSpan.Zero);

    [Fact(Explicit = true)]
    public Task All_that_is_published_over_cuts_of_ten_minutes_arrives() => Arrives(TimeSpan.FromSeconds(LongSeconds));

    async Task Arrives(TimeSpan atLeast)
    {
        using var giveUp = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        giveUp.CancelAfter(2 * atLeast + TimeSpan.FromMinutes(6));
        var cancel = giveUp.Token;
        using var folder = new TemporaryFolder();
        await using var cables = await Cables.Lay(2, cancel);
        await using var broker = await MosquittoBroker.Start(cancel, (text, _) => text.Replace(" 127.0.0.1", "", StringComparison.Ordinal), cables.Inside);
        var began = DateTimeOffset.UtcNow;
        long published;
        await using (var service = await StartedService.Connected(Twins.SiteFile, $"{cables.Host(ServiceCable)}:{broker.Port}", "--data", folder["data"]))
        {
            await using var pedestals = new PatientPedestals(cables.Host(PedestalsCable), broker.Port);
            await Heard(service, pedestals, amps: 1, cancel);

            await Cut(cables, PedestalsCable, pedestals, atLeast, () => Task.FromResult(!pedestals.IsConnected), cancel);
            await Heard(service, pedestals, amps: 2, cancel);

            await Cut(cables, ServiceCable, pedestals, atLeast, async () => (await service.Health("ready")).Status == 503, cancel);
            await Heard(service, pedestals, amps: 3, cancel);

            await pedestals.Finish().WaitAsync(cancel);
            published = pedestals.Published;
            await WhenAllIsKept(service, published, cancel);
        }
        using var history = History.OpenToRead(Path.Combine(folder["data"], "history.sqlite"));
        var found = TwoPedestals.Names.Select(name => history.Readings(name, began.AddMinutes(-1), began.AddDays(1), int.MaxValue - 1).Rows).ToList();
        output.WriteLine($"{published} readings published, {found.Sum(rows => rows.Count)} in the history");
        Assert.Equal(published, found.Sum(rows => rows.Count));
        Assert.All(found, rows => Assert.Equal(Enumerable.Range(0, rows.Count).Select(seq => (long?)seq), rows.Select(reading => reading.Seq)));
    }

    /// <summary>Pulled until it was noticed and so long has passed; readings are measured all the while.</summary>
    async Task Cut(Cables cables, int cable, PatientPedestals pedestals, TimeSpan atLeast, Func<Task<bool>> isNoticed, CancellationToken cancel)
    {
        var (from, before) = (TimeProvider.System.GetTimestamp(), pedestals.Measured);
        await cables.Pull(cable, cancel);
        using var again = new PeriodicTimer(TimeSpan.FromMilliseconds(250));
        while (!await isNoticed() || TimeProvider.System.GetElapsedTime(from) < atLeast)
            await again.WaitForNextTickAsync(cancel);
        await cables.Plug(cable, cancel);
        output.WriteLine($"cable {cable} pulled for {TimeProvider.System.GetElapsedTime(from).TotalSeconds.ToString("0", CultureInfo.InvariantCulture)} s, {pedestals.Measured - before} readings measured meanwhile");
    }

    /// <summary>What is measured from now on has reached the service.</summary>
    static async Task Heard(StartedService service, PatientPedestals pedestals, double amps, CancellationToken cancel)
    {
        pedestals.Amps = amps;
        await service.WhenView(view => Amps(view).Count(drawn => drawn == amps) == TwoPedestals.Names.Count).WaitAsync(cancel);
    }

    static async Task WhenAllIsKept(StartedService service, long published, CancellationToken cancel)
    {
        while (await service.Metric("farberth_messages_acknowledged_total") < published)
            await service.WhenTicked().WaitAsync(cancel);
        await service.WhenView(view => (long)view["store"]!["unread"]! == 0).WaitAsync(cancel);
    }

    static IEnumerable<double?> Amps(JsonNode view) => view["docks"]!.AsArray().SelectMany(dock => dock!["outlets"]!.AsArray())
        .Where(outlet => (string)outlet!["outlet"]! == "P0").Select(outlet => (double?)outlet!["amps"]);
}
