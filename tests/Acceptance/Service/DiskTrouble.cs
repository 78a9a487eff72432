using System.Text.Json.Nodes;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Service;

/// <summary>The real service on a real file system that is full for a while, or that the kernel has made read-only.</summary>
public sealed class DiskTrouble : IDisposable
{
    static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml");

    readonly CancellationTokenSource giveUp = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
    readonly DateTimeOffset began = DateTimeOffset.UtcNow;
    int sent;

    public DiskTrouble() => giveUp.CancelAfter(TimeSpan.FromMinutes(2));

    public void Dispose() => giveUp.Dispose();

    [Fact]
    public async Task The_dock_is_watched_while_the_disk_is_full_and_everything_is_kept_once_it_is_not()
    {
        await using var disk = await SmallDisk.Mount(kibibytes: 1024, giveUp.Token);
        await using var broker = await MosquittoBroker.Start(giveUp.Token);
        await using (var service = await StartedService.Connected(SiteFile, broker, "--data", Path.Combine(disk.Folder, "data")))
        {
            await Keeps(service, broker, readings: 10, amps: 5);
            disk.Fill();
            await IsWatchedWithoutDisk(service, broker);
            disk.Free();
            await service.WhenView(view => Problem(view) == "");
            await Keeps(service, broker, readings: 1, amps: 8);
        }
        AllAreKept(disk.Folder);
    }

    /// <summary>
    /// A disk with errors stays read-only until it was unmounted and checked, which needs the service to end; meanwhile the broker keeps what comes. What
    /// was acknowledged before the error is on it.
    /// </summary>
    [Fact]
    public async Task The_dock_is_watched_while_the_disk_is_read_only_and_everything_is_kept_after_its_repair()
    {
        await using var disk = await FailingDisk.Mount(mebibytes: 16, giveUp.Token);
        await using var broker = await MosquittoBroker.Start(giveUp.Token);
        await using (var service = await StartedService.Connected(SiteFile, broker, "--data", Path.Combine(disk.Folder, "data")))
        {
            await Keeps(service, broker, readings: 10, amps: 5);
            await disk.Fail(giveUp.Token);
            await IsWatchedWithoutDisk(service, broker);
            var (status, body) = await service.Health("ready");
            Assert.Equal(503, status);
            Assert.Contains("the disk takes nothing: Read-only file system", body.ToJsonString(), StringComparison.Ordinal);
            Assert.Equal(200, (await service.Health("live")).Status);
        }
        await disk.Repair(giveUp.Token);
        await using (var service = await StartedService.Connected(SiteFile, broker, "--data", Path.Combine(disk.Folder, "data")))
            await Keeps(service, broker, readings: 1, amps: 8);
        AllAreKept(disk.Folder);
    }

    async Task Keeps(StartedService service, MosquittoBroker broker, int readings, double amps)
    {
        await Publish(broker, readings, amps);
        await service.WhenView(view => Amps(view) == amps && (long)view["store"]!["unread"]! == 0);
    }

    async Task IsWatchedWithoutDisk(StartedService service, MosquittoBroker broker)
    {
        // More than the room in the last page of a file.
        await Publish(broker, 40, amps: 6);
        await service.WhenView(view => Problem(view) != "" && (long)view["store"]!["held"]! > 0);
        // Far more than a broker sends without an acknowledgement.
        await Publish(broker, 200, amps: 7);
        await service.WhenView(view => Amps(view) == 7);
    }

    void AllAreKept(string folder)
    {
        using var history = History.OpenToRead(Path.Combine(folder, "data", "history.sqlite"));
        var found = history.Readings("G2", began.AddMinutes(-1), began.AddDays(1), 10_000).Rows;
        Assert.Equal(Enumerable.Range(0, sent).Select(seq => (long?)seq), found.Select(reading => reading.Seq));
    }

    async Task Publish(MosquittoBroker broker, int readings, double amps)
    {
        var lines = Enumerable.Range(sent, readings).Select(seq => Reading(seq, began.AddMilliseconds(seq), amps)).ToList();
        sent += readings;
        await broker.PublishLines("farberth/v1/gullhaven/pedestal/G2/reading", lines, giveUp.Token);
    }

    static string Problem(JsonNode view) => (string)view["store"]!["problem"]!;

    static double? Amps(JsonNode view) => view["docks"]!.AsArray().SelectMany(dock => dock!["outlets"]!.AsArray())
        .Where(outlet => (string)outlet!["slip"]! == "G-2").Select(outlet => (double?)outlet!["amps"]).FirstOrDefault();

    static string Reading(int seq, DateTimeOffset time, double amps) => new JsonObject
    {
        ["time"] = time.ToString("O"),
        ["seq"] = seq,
        ["volts"] = new JsonObject { ["L1"] = 118.4, ["L2"] = 120.4 },
        ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps } } },
    }.ToJsonString();
}
