using System.Text.Json.Nodes;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Service;

/// <summary>The real service on a real file system that is full for a while.</summary>
public class FullDisk
{
    static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml");

    readonly CancellationToken cancel = CancellationTokenSource.CreateLinkedTokenSource(
        TestContext.Current.CancellationToken, new CancellationTokenSource(TimeSpan.FromMinutes(2)).Token).Token;

    [Fact]
    public async Task The_dock_is_watched_while_the_disk_is_full_and_everything_is_kept_once_it_is_not()
    {
        await using var disk = await SmallDisk.Mount(kibibytes: 1024, cancel);
        await using var broker = await MosquittoBroker.Start(cancel);
        var began = DateTimeOffset.UtcNow;
        var sent = 0;
        await using (var service = await StartedService.Connected(SiteFile, broker, "--data", Path.Combine(disk.Folder, "data")))
        {
            await Publish(10, amps: 5);
            await service.WhenView(view => Amps(view) == 5 && (long)view["store"]!["unread"]! == 0);

            disk.Fill();
            // More than the room in the last page of a file.
            await Publish(40, amps: 6);
            await service.WhenView(view => (string)view["store"]!["problem"]! != "" && (long)view["store"]!["held"]! > 0);
            // Far more than a broker sends without an acknowledgement.
            await Publish(200, amps: 7);
            await service.WhenView(view => Amps(view) == 7);

            disk.Free();
            await service.WhenView(view => (string)view["store"]!["problem"]! == "");
            await Publish(1, amps: 8);
            await service.WhenView(view => Amps(view) == 8 && (long)view["store"]!["unread"]! == 0);
        }
        using var history = History.OpenToRead(Path.Combine(disk.Folder, "data", "history.sqlite"));
        var found = history.Readings("G2", began.AddMinutes(-1), began.AddDays(1), 10_000).Rows;
        Assert.Equal(Enumerable.Range(0, sent).Select(seq => (long?)seq), found.Select(reading => reading.Seq));

        async Task Publish(int readings, double amps)
        {
            var lines = Enumerable.Range(sent, readings).Select(seq => Reading(seq, began.AddMilliseconds(seq), amps)).ToList();
            sent += readings;
            await broker.PublishLines("farberth/v1/gullhaven/pedestal/G2/reading", lines, cancel);
        }
    }

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
