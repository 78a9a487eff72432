using System.Text.Json.Nodes;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Service;

/// <summary>
/// The real service against Debian's Mosquitto on loopback. What goes in is published with mosquitto_pub and what comes
/// out is read with mosquitto_sub: clients that are not this project's.
/// </summary>
public class ServiceAgainstMosquitto
{
    const string Prefix = "farberth/v1/gullhaven/";

    static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml");

    readonly CancellationToken cancel = CancellationTokenSource.CreateLinkedTokenSource(
        TestContext.Current.CancellationToken, new CancellationTokenSource(TimeSpan.FromMinutes(2)).Token).Token;

    [Fact]
    public async Task An_overload_appears_for_the_right_slip_clears_and_is_gone_when_acknowledged()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var alarms = await broker.Subscribe(Prefix + "alarm/+", cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);

        await Publish(broker, amps: 31.4);
        var (topic, raised) = await NextAlarm(alarms);
        Assert.Equal(Prefix + "alarm/G.G2.A.overload", topic);
        Assert.Equal(("unacknowledged", "high", "G-2"), (Text(raised, "state"), Text(raised, "priority"), Text(raised, "slip")));
        Assert.Equal(31.4, (double)raised!["evidence"]!["amps"]!);

        // One low reading after high ones is taken for a gap in them.
        await Publish(broker, amps: 9);
        await service.WhenView(view => view["docks"]![0]!["outlets"]!.AsArray().Any(outlet => Text(outlet, "slip") == "G-2" && (double)outlet!["amps"]! == 9));
        await Publish(broker, amps: 9);
        var (_, returned) = await NextAlarm(alarms);
        Assert.Equal("returned-unacknowledged", Text(returned, "state"));

        await broker.Publish(topic + "/acknowledge", new JsonObject { ["time"] = Now, ["by"] = "Ines" }.ToJsonString(), cancel);
        Assert.Equal((topic, null), await NextAlarm(alarms));
    }

    /// <summary>The site's own delays are short; a request is taken back ten minutes after it is no longer needed, or when the boat leaves.</summary>
    [Fact]
    public async Task A_boater_is_asked_to_switch_off_and_the_request_goes_when_his_boat_has_left()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var advice = await broker.Subscribe(Prefix + "slip/+/advice", cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);

        await Publish(broker, amps: 31.4);
        var (topic, asked) = await NextAlarm(advice);
        Assert.Equal(Prefix + "slip/G-2/advice", topic);
        Assert.Equal(("shed", "G-2"), (Text(asked, "ask"), Text(asked, "slip")));
        Assert.Equal(8.5, (double)asked!["amps"]!); // 24 A less 3 % is 23.3 A
        Assert.Contains("comes off only after everything on it is switched off", Text(asked, "message"));
        await using var late = await broker.Subscribe(Prefix + "slip/+/advice", cancel);
        Assert.Equal(topic, (await NextAlarm(late)).Topic);

        await broker.Publish(Prefix + "slip/G-2/boat", new JsonObject { ["time"] = Now, ["present"] = false }.ToJsonString(), cancel);
        Assert.Equal((topic, null), await NextAlarm(advice));
    }

    [Fact]
    public async Task Who_comes_late_finds_the_state_of_the_dock_and_the_standing_alarms()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);
        await Publish(broker, amps: 31.4);
        await service.WhenView(view => view["alarms"]!.AsArray().Count > 0);

        await using var late = await broker.Subscribe(Prefix + "#", cancel);
        var seen = new Dictionary<string, JsonNode?>();
        while (!seen.ContainsKey(Prefix + "dock/G/state") || !seen.ContainsKey(Prefix + "alarm/G.G2.A.overload"))
        {
            var (topic, payload) = await late.Next(cancel);
            seen[topic] = Parse(payload);
        }
        var far = seen[Prefix + "dock/G/state"]!["pedestals"]!["G2"]!["L1"]!;
        Assert.Equal(31.4, (double)far["amps"]!, 1.0); // estimated: amps and volts together
        Assert.InRange((double)far["volts"]!, 110, 120);
    }

    [Fact]
    public async Task What_is_malformed_misplaced_or_unknown_is_told_and_nothing_goes_down()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);
        await broker.Publish(Prefix + "pedestal/G1/reading", "{\"time\":", cancel);
        await broker.Publish(Prefix + "pedestal/G9/reading", Reading(120, 120, 1), cancel);
        await broker.Publish(Prefix + "weather/tomorrow", "{}", cancel);
        await broker.Publish(Prefix + "pedestal/G1/reading", Reading(900, 900, 1), cancel);

        await service.WhenView(view => (long)view["refused"]! >= 5); // 900 V on each of two legs
        var refusals = await service.Refusals();
        Assert.Equal(
            ["not-json", "unknown-pedestal", "unknown-topic", "volts-too-high"],
            refusals.Select(one => Text(one, "reason")).Order());
        Assert.All(refusals, one => Assert.NotEqual("", Text(one, "detail")));
        await Publish(broker, amps: 5);
        await service.WhenView(HasHeardG2);
    }

    [Fact]
    public async Task A_broker_that_dies_and_comes_back_is_found_again()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);
        await Publish(broker, amps: 5);
        await service.WhenView(HasHeardG2);
        await broker.Kill(cancel);
        await service.WhenView(view => Text(view["broker"], "state") != "connected");
        await broker.Restart(cancel);
        await service.WhenView(view => Text(view["broker"], "state") == "connected");
        await using var alarms = await broker.Subscribe(Prefix + "alarm/+", cancel);
        await broker.Publish(Prefix + "pedestal/G2/link", new JsonObject { ["online"] = false, ["time"] = Now }.ToJsonString(), cancel);
        Assert.Equal(Prefix + "alarm/G.G2.meter-silent", (await NextAlarm(alarms)).Topic);
    }

    static bool HasHeardG2(JsonNode view) => view["docks"]!.AsArray().SelectMany(dock => dock!["pedestals"]!.AsArray())
        .Any(pedestal => Text(pedestal, "name") == "G2" && pedestal!["fresh"]!.GetValue<bool>());

    static string Now => DateTimeOffset.UtcNow.ToString("O");

    async Task Publish(MosquittoBroker broker, double amps)
    {
        await broker.Publish(Prefix + "pedestal/G1/reading", Reading(119.1, 120.2, 2), cancel);
        await broker.Publish(Prefix + "pedestal/G2/reading", Reading(114.6, 120.4, amps), cancel);
    }

    static string Reading(double volts1, double volts2, double amps) => new JsonObject
    {
        ["time"] = Now,
        ["volts"] = new JsonObject { ["L1"] = volts1, ["L2"] = volts2 },
        ["outlets"] = new JsonObject
        {
            ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps }, ["closed"] = true },
        },
    }.ToJsonString();

    static async Task<(string Topic, JsonNode? Alarm)> NextAlarm(MosquittoSubscription alarms)
    {
        using var patience = new CancellationTokenSource(TimeSpan.FromMinutes(1));
        var (topic, payload) = await alarms.Next(patience.Token);
        return (topic, Parse(payload));
    }

    static JsonNode? Parse(string payload) => payload == "" ? null : JsonNode.Parse(payload);

    static string? Text(JsonNode? node, string member) => (string?)node?[member];
}
