using System.Text.Json.Nodes;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Service;

/// <summary>The real service against Debian's Mosquitto, killed with SIGKILL in the middle of an alarm: nobody notices.</summary>
public class Restarted
{
    const string Prefix = "farberth/v1/gullhaven/", Alarm = "G.G2.A.overload";

    static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml");

    readonly CancellationToken cancel = CancellationTokenSource.CreateLinkedTokenSource(
        TestContext.Current.CancellationToken, new CancellationTokenSource(TimeSpan.FromMinutes(2)).Token).Token;

    [Fact]
    public async Task An_alarm_that_somebody_has_answered_is_answered_after_it_and_raised_once()
    {
        using var folder = new TemporaryFolder();
        await using var broker = await MosquittoBroker.Start(cancel);
        string since;
        await using (var service = await StartedService.Connected(SiteFile, broker, "--data", folder["data"]))
        {
            await Draw(broker, amps: 31.4);
            since = Text((await service.WhenView(view => State(view) == "unacknowledged"))["alarms"]![0], "since")!;
            await broker.Publish($"{Prefix}alarm/{Alarm}/acknowledge", Answer(), cancel);
            await service.WhenView(view => State(view) == "acknowledged");
            await Journaled(service, "acknowledged");
            await service.Kill();
        }
        await using (var service = await StartedService.Connected(SiteFile, broker, "--data", folder["data"]))
        {
            var view = await service.WhenView(view => State(view) != null);
            Assert.Equal(("acknowledged", since), (State(view), Text(view["alarms"]![0], "since")));
            // One reading alone may be a motor's.
            await Draw(broker, amps: 2);
            await service.WhenView(view => Amps(view) == 2);
            await Draw(broker, amps: 2);
            await service.WhenView(view => State(view) == null && IsFresh(view));
            await Journaled(service, "normal");
            var events = (await service.Get($"/api/journal/events?alarm={Alarm}"))["events"]!.AsArray();
            Assert.Equal(["acknowledged", "normal", "unacknowledged"], events.Select(one => Text(one, "state")).Order());
        }
    }

    static async Task Journaled(StartedService service, string state)
    {
        JsonNode page;
        do
            page = await service.Get($"/api/journal/events?alarm={Alarm}");
        while (page["events"]!.AsArray().All(one => Text(one, "state") != state));
    }

    async Task Draw(MosquittoBroker broker, double amps)
    {
        await broker.Publish(Prefix + "pedestal/G1/reading", Reading(119.1, 2), cancel);
        await broker.Publish(Prefix + "pedestal/G2/reading", Reading(114.6, amps), cancel);
    }

    static string Answer() => new JsonObject { ["time"] = DateTimeOffset.UtcNow.ToString("O"), ["by"] = "Ines" }.ToJsonString();

    static string Reading(double volts, double amps) => new JsonObject
    {
        ["time"] = DateTimeOffset.UtcNow.ToString("O"), ["volts"] = new JsonObject { ["L1"] = volts, ["L2"] = 120.3 },
        ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps } } },
    }.ToJsonString();

    static string? State(JsonNode view) => view["alarms"]!.AsArray().Select(alarm => alarm!).Where(alarm => Text(alarm, "id") == Alarm).Select(alarm => Text(alarm, "state")).FirstOrDefault();

    static double Amps(JsonNode view) => view["docks"]![0]!["outlets"]!.AsArray().Where(outlet => Text(outlet, "pedestal") == "G2").Max(outlet => (double)outlet!["amps"]!);

    static bool IsFresh(JsonNode view) => view["docks"]!.AsArray().All(dock => dock!["pedestals"]!.AsArray().All(one => (bool)one!["fresh"]!));

    static string? Text(JsonNode? node, string name) => (string?)node![name];
}
