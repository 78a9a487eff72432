using System.Globalization;
using System.Text.Json.Nodes;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Service;

/// <summary>
/// The real service killed with SIGKILL under load, against Debian's Mosquitto. Whatever mosquitto_pub was told at QoS 1
/// that the broker has must be in the history, once.
/// </summary>
public class Killed(ITestOutputHelper output)
{
    static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml");

    readonly CancellationToken cancel = TestContext.Current.CancellationToken;

    [Fact]
    public Task Every_reading_that_the_broker_took_is_in_the_history_once_after_a_few_kills() => KillUnderLoad(rounds: 5);

    [Fact(Explicit = true)]
    public Task Every_reading_that_the_broker_took_is_in_the_history_once_after_two_hundred_kills() => KillUnderLoad(rounds: 200);

    async Task KillUnderLoad(int rounds)
    {
        using var folder = new TemporaryFolder();
        await using var broker = await MosquittoBroker.Start(cancel);
        var sent = new List<long>();
        var random = new Random(rounds);
        for (var round = 0; round < rounds; round++)
        {
            await using var service = await StartedService.Connected(SiteFile, broker, "--data", folder["data"]);
            var lines = Enumerable.Range(sent.Count, 500 + random.Next(1500)).ToList();
            sent.AddRange(lines.Select(seq => (long)seq));
            var publishing = broker.PublishLines("farberth/v1/gullhaven/pedestal/G2/reading", lines.Select(seq => Reading(seq, Midnight.AddMilliseconds(250 * seq))), cancel);
            await Task.WhenAny(publishing, Written(Path.Combine(folder["data"], "intake"), random.Next(40)));
            await service.Kill();
            await publishing;
        }
        await using (var last = await StartedService.Connected(SiteFile, broker, "--data", folder["data"]))
        {
            await broker.Publish("farberth/v1/gullhaven/pedestal/G1/reading", Reading(0, DateTimeOffset.UtcNow), cancel);
            await last.WhenView(view => IsFresh(view, "G1") && (long)view["store"]!["unread"]! == 0);
        }
        var found = Found(folder["data"]);
        output.WriteLine($"{sent.Count} readings, {rounds} kills, {found.Count} in the history");
        Assert.Equal(sent, found.Order());
    }

    /// <summary>The log's files have been written to so many times: somewhere in the middle of the load.</summary>
    static async Task Written(string folder, int times)
    {
        using var watcher = new FileSystemWatcher(folder, "*.intake");
        var reached = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var left = times;
        watcher.Changed += (_, _) =>
        {
            if (Interlocked.Decrement(ref left) <= 0)
                reached.TrySetResult();
        };
        watcher.EnableRaisingEvents = true;
        await reached.Task;
    }

    static bool IsFresh(JsonNode view, string pedestal) => view["docks"]!.AsArray().SelectMany(dock => dock!["pedestals"]!.AsArray())
        .Any(one => (string)one!["name"]! == pedestal && (bool)one["fresh"]!);

    static List<long> Found(string data)
    {
        using var history = History.OpenToRead(Path.Combine(data, "history.sqlite"));
        return [.. history.Readings("G2", Midnight, Midnight.AddDays(3), int.MaxValue - 1).Rows.Select(reading => reading.Seq!.Value)];
    }

    // Four a second from midnight on; long enough ago that none lies ahead, and recent enough to be kept.
    static readonly DateTimeOffset Midnight = new(DateTimeOffset.UtcNow.AddDays(-3).Date, TimeSpan.Zero);

    static string Reading(int seq, DateTimeOffset time) => new JsonObject
    {
        ["time"] = time.ToString("O", CultureInfo.InvariantCulture),
        ["seq"] = seq,
        ["volts"] = new JsonObject { ["L1"] = 114 + seq % 50 / 10.0, ["L2"] = 120.4 },
        ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = seq % 240 / 10.0 } } },
    }.ToJsonString();
}
