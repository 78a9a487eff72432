using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Service;

/// <summary>The probes and the metrics of the real process tell what is so.</summary>
public partial class WatchedFromOutside
{
    static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml");

    readonly CancellationToken cancel = CancellationTokenSource.CreateLinkedTokenSource(
        TestContext.Current.CancellationToken, new CancellationTokenSource(TimeSpan.FromMinutes(2)).Token).Token;

    [Fact]
    public async Task Ready_is_said_when_a_pedestal_is_heard_taken_back_when_the_broker_dies_and_said_again()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);
        var (status, body) = await service.Health("ready");
        Assert.Equal((503, "failed", "no pedestal has been heard yet"), (status, State(body, "readings"), Reason(body, "readings")));

        await Say(broker, "G1", amps: 5);
        await service.WhenView(Heard("G1"));
        (status, body) = await service.Health("ready");
        Assert.Equal((200, "good", "good"), (status, State(body, "broker"), State(body, "store")));

        await broker.Kill(cancel);
        await service.WhenView(view => (string)view["broker"]!["state"]! != "connected");
        (status, body) = await service.Health("ready");
        Assert.Equal((503, "failed", "good"), (status, State(body, "broker"), State(body, "store")));
        Assert.NotEqual("connected", Reason(body, "broker"));
        Assert.Equal(200, (await service.Health("live")).Status);

        await broker.Restart(cancel);
        await service.WhenView(view => (string)view["broker"]!["state"]! == "connected");
        Assert.Equal((200, true), (await service.Health("ready") is var (again, whole) ? again : 0, (bool)whole["ready"]!));
    }

    [Fact]
    public async Task The_metrics_count_what_has_happened()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);
        await Say(broker, "G1", amps: 31.4);
        await Say(broker, "G2", amps: 2);
        await broker.Publish("farberth/v1/gullhaven/pedestal/G9/reading", "{}", cancel);
        await service.WhenView(view => view["alarms"]!.AsArray().Count > 0 && (long)view["refused"]! == 1);
        var text = await service.Metrics();
        Assert.Equal("1", Value(text, "farberth_broker_connected"));
        Assert.Equal("1", Value(text, "farberth_alarms_standing", "priority=\"high\""));
        Assert.Equal("1", Value(text, "farberth_messages_refused_total", "reason=\"unknown-pedestal\""));
        Assert.Equal("3", Value(text, "farberth_messages_received_total"));
        Assert.Equal("3", Value(text, "farberth_messages_acknowledged_total"));
        Assert.True(int.Parse(Value(text, "farberth_intake_size_bytes")) > 200);
        Assert.True(int.Parse(Value(text, "farberth_tick_duration_seconds_count")) > 0);
    }

    /// <summary>The document has a row for each name, and no other: those that are served, and those that come with the first event of their kind.</summary>
    [Fact]
    public async Task Every_metric_is_explained_in_the_document()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var service = await StartedService.Connected(SiteFile, broker, "--influx", "http://127.0.0.1:9");
        await Say(broker, "G1", amps: 1);
        await broker.Publish("farberth/v1/gullhaven/pedestal/G9/reading", "{}", cancel);
        await service.WhenView(view => Heard("G1")(view) && (long)view["refused"]! == 1);
        var served = MetricType().Matches(await service.Metrics()).Select(type => type.Groups[1].Value).ToHashSet();
        var rows = MetricRow().Matches(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "docs", "metrics.md"), cancel))
            .ToDictionary(row => row.Groups[1].Value, row => row.Groups[2].Value);
        Assert.Empty(served.Except(rows.Keys));
        Assert.Equal(
            ["farberth_notifications_total", "farberth_store_failures_total"],
            rows.Keys.Except(served).Order());
        Assert.All(rows.Values, meaning => Assert.True(meaning.Length > 20));
    }

    Task Say(MosquittoBroker broker, string pedestal, double amps) => broker.Publish(
        $"farberth/v1/gullhaven/pedestal/{pedestal}/reading",
        new JsonObject
        {
            ["time"] = DateTimeOffset.UtcNow.ToString("O"),
            ["volts"] = new JsonObject { ["L1"] = 118.5, ["L2"] = 120.4 },
            ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps } } },
        }.ToJsonString(), cancel);

    static Func<JsonNode, bool> Heard(string name) => view => view["docks"]!.AsArray().SelectMany(dock => dock!["pedestals"]!.AsArray())
        .Any(pedestal => (string)pedestal!["name"]! == name && pedestal["fresh"]!.GetValue<bool>());

    static string State(JsonNode body, string part) => (string)body["parts"]![part]!["state"]!;

    static string Reason(JsonNode body, string part) => (string)body["parts"]![part]!["reason"]!;

    static string Value(string metrics, string name, string label = "") => metrics.Split('\n')
        .Single(line => line.StartsWith(name + "{", StringComparison.Ordinal) && line.Contains(label, StringComparison.Ordinal)).Split(' ')[1];

    [GeneratedRegex(@"^# TYPE (farberth_\w+) ", RegexOptions.Multiline)]
    private static partial Regex MetricType();

    [GeneratedRegex(@"^\| `(farberth_\w+)` \| (.+) \|$", RegexOptions.Multiline)]
    private static partial Regex MetricRow();
}
