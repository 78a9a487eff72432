using System.Text.Json.Nodes;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Service;

/// <summary>Shelving and maintenance through Debian's Mosquitto, with clients that are not this project's.</summary>
public class AlarmsPutAside
{
    const string Prefix = "farberth/v1/gullhaven/", Alarm = Prefix + "alarm/G.G2.A.overload";

    static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml");

    readonly CancellationToken cancel = CancellationTokenSource.CreateLinkedTokenSource(
        TestContext.Current.CancellationToken, new CancellationTokenSource(TimeSpan.FromMinutes(2)).Token).Token;

    [Fact]
    public async Task An_alarm_is_shelved_with_a_name_and_an_end_and_stands_again_when_it_is_taken_off()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var alarms = await broker.Subscribe(Prefix + "alarm/+", cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);
        await Overload(broker);
        Assert.Equal("unacknowledged", Text(await Next(alarms), "state"));

        var until = DateTimeOffset.UtcNow.AddMinutes(30);
        await Say(broker, "shelve", ("until", until.ToString("O")), ("reason", "the boat is being rewired"));
        var shelved = await Next(alarms);
        Assert.Equal("shelved", Text(shelved, "state"));
        Assert.Equal(("Ines", "the boat is being rewired"), (Text(shelved!["set-aside"], "by"), Text(shelved["set-aside"], "reason")));
        Assert.Equal(until.UtcDateTime, DateTimeOffset.Parse(Text(shelved["set-aside"], "until")!).UtcDateTime, TimeSpan.FromMilliseconds(1));
        var view = await service.WhenView(view => Text(view["alarms"]![0], "state") == "shelved");
        Assert.Contains("by Ines until", Text(view["alarms"]![0], "set-aside"));

        await Say(broker, "unshelve");
        // Taken away and raised anew in one tick: the outbox may pass the second only.
        var back = await Next(alarms) ?? await Next(alarms);
        Assert.Equal("unacknowledged", Text(back, "state"));
        Assert.Null(back!["set-aside"]);
    }

    [Fact]
    public async Task Maintenance_takes_an_alarm_out_of_service_and_returns_it()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var alarms = await broker.Subscribe(Prefix + "alarm/+", cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);
        await Overload(broker);
        await Next(alarms);

        await Say(broker, "out-of-service", ("reason", "meter faulty"));
        var removed = await Next(alarms);
        Assert.Equal(("out-of-service", null), (Text(removed, "state"), Text(removed!["set-aside"], "until")));
        await Say(broker, "return-to-service");
        Assert.Equal("unacknowledged", Text(await Next(alarms) ?? await Next(alarms), "state"));
    }

    [Fact]
    public async Task What_cannot_be_had_is_refused_with_the_reason()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);
        await Overload(broker);
        await service.WhenView(view => view["alarms"]!.AsArray().Count > 0);

        await Say(broker, "shelve", ("until", DateTimeOffset.UtcNow.AddHours(11).ToString("O")), ("reason", "too long for high priority"));
        await Say(broker, "shelve", ("until", DateTimeOffset.UtcNow.AddHours(13).ToString("O")), ("reason", "too long for anything"));
        await broker.Publish(Prefix + "alarm/G.G9.meter-silent/unshelve", Command(), cancel);
        await service.WhenView(view => (long)view["refused"]! >= 3);

        var refusals = await service.Refusals();
        Assert.Equal(["not-allowed", "out-of-range", "unknown-alarm"], refusals.Select(one => Text(one, "reason")).Order());
        Assert.Contains(refusals, one => Text(one, "detail") == "Ines asked in vain: of high priority it can be shelved for 1 h at most");
    }

    Task Say(MosquittoBroker broker, string what, params (string Name, string Value)[] members) =>
        broker.Publish($"{Alarm}/{what}", Command(members), cancel);

    static string Command(params (string Name, string Value)[] members)
    {
        var command = new JsonObject { ["time"] = DateTimeOffset.UtcNow.ToString("O"), ["by"] = "Ines" };
        foreach (var (name, value) in members)
            command[name] = value;
        return command.ToJsonString();
    }

    async Task Overload(MosquittoBroker broker)
    {
        await broker.Publish(Prefix + "pedestal/G1/reading", Reading(119.1, 2), cancel);
        await broker.Publish(Prefix + "pedestal/G2/reading", Reading(114.6, 31.4), cancel);
    }

    static string Reading(double volts1, double amps) => new JsonObject
    {
        ["time"] = DateTimeOffset.UtcNow.ToString("O"),
        ["volts"] = new JsonObject { ["L1"] = volts1, ["L2"] = 120.3 },
        ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps }, ["closed"] = true } },
    }.ToJsonString();

    /// <summary>Null where the alarm was taken away.</summary>
    async Task<JsonNode?> Next(MosquittoSubscription alarms)
    {
        string topic, payload;
        do
            (topic, payload) = await alarms.Next(cancel);
        while (topic != Alarm);
        return payload == "" ? null : JsonNode.Parse(payload);
    }

    static string? Text(JsonNode? node, string member) => (string?)node?[member];
}
