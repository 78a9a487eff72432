using System.Text.Json.Nodes;
using Farberth.Tests.Fixtures;
using Microsoft.OpenApi;

namespace Farberth.Acceptance.Tests.Service;

/// <summary>What people and programs do through the HTTP API of the real process.</summary>
public class PeopleAct
{
    const string Prefix = "farberth/v1/gullhaven/", Alarm = "G.G2.A.overload";

    static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml");

    readonly CancellationToken cancel = CancellationTokenSource.CreateLinkedTokenSource(
        TestContext.Current.CancellationToken, new CancellationTokenSource(TimeSpan.FromMinutes(2)).Token).Token;

    [Fact]
    public async Task An_alarm_is_acknowledged_and_shelved_while_the_broker_is_dead_and_after_a_kill_it_still_is()
    {
        using var folder = new TemporaryFolder();
        var address = "";
        await using (var broker = await MosquittoBroker.Start(cancel))
        {
            address = $"{broker.Host}:{broker.Port}";
            await using var service = await StartedService.Connected(SiteFile, broker, "--data", folder["data"]);
            await Overload(broker);
            await service.WhenView(view => State(view) == "unacknowledged");
            await broker.Kill(cancel);
            await service.WhenView(view => Text(view["broker"], "state") != "connected");

            var (status, done) = await service.Post($"/api/alarms/{Alarm}/acknowledge");
            Assert.Equal((200, "acknowledged"), (status, Text(done["alarm"], "state")));
            (status, done) = await service.Post($"/api/alarms/{Alarm}/shelve", Shelf(minutes: 30, "the boat is being rewired"));
            Assert.Equal((200, "shelved"), (status, Text(done["alarm"], "state")));
            Assert.Contains("the boat is being rewired", Text(done["alarm"], "set-aside"), StringComparison.Ordinal);
            await service.Kill();
        }
        await using var after = await StartedService.Start("run", SiteFile, "--mqtt", address, "--http", "http://127.0.0.1:0", "--data", folder["data"]);
        var view = await after.WhenView(view => State(view) == "shelved");
        Assert.Contains("the boat is being rewired", Text(view["alarms"]![0], "set-aside"), StringComparison.Ordinal);
        var one = await after.Get($"/api/alarms/{Alarm}");
        Assert.Equal(["shelved", "acknowledged", "unacknowledged"], one["steps"]!.AsArray().Select(step => Text(step, "to")));
        Assert.Equal((200, "unacknowledged"), Outcome(await after.Post($"/api/alarms/{Alarm}/unshelve")));
    }

    [Fact]
    public async Task Whoever_cannot_have_what_he_asks_for_is_told_why()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);
        await Overload(broker);
        await service.WhenView(view => State(view) == "unacknowledged");

        Assert.Equal((409, "of high priority it can be shelved for 1 h at most"), Problem(await service.Post($"/api/alarms/{Alarm}/shelve", Shelf(minutes: 90, "too long"))));
        Assert.Equal(400, (await service.Post($"/api/alarms/{Alarm}/shelve", Shelf(minutes: 14 * 60, "too long for anything"))).Status);
        Assert.Equal(400, (await service.Post($"/api/alarms/{Alarm}/shelve", new JsonObject { ["reason"] = "no end" })).Status);
        Assert.Equal(404, (await service.Post("/api/alarms/G.G9.meter-silent/acknowledge")).Status);
        Assert.Equal(403, (await service.Post($"/api/alarms/{Alarm}/acknowledge", fromOwnPage: false)).Status);
        Assert.Equal("unacknowledged", State(await service.Get("/api/view")));
        Assert.Equal(1, (long)(await service.Get("/api/refusals")).AsArray().Single(one => Text(one, "reason") == "not-allowed")!["count"]!);
    }

    [Fact]
    public async Task A_moment_of_the_past_is_what_was_published_then()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var states = await broker.Subscribe(Prefix + "dock/G/state", cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);
        await Overload(broker);
        await service.WhenView(view => State(view) == "unacknowledged" && (bool)view["docks"]![0]!["whole"]!);
        var published = JsonNode.Parse((await states.Next(cancel)).Payload)!;
        while (published["pedestals"]!["G2"]!["L1"]!["amps"] is not { } amps || (double)amps < 30)
            published = JsonNode.Parse((await states.Next(cancel)).Payload)!;
        await service.WhenView(view => (long)view["store"]!["unread"]! == 0);

        var then = await service.Get($"/api/docks/G?at={Text(published, "time")}");
        Assert.Equal((true, DateTimeOffset.Parse(Text(published, "time")!)), ((bool)then["past"]!, DateTimeOffset.Parse(Text(then, "at")!)));
        foreach (var pedestal in then["dock"]!["pedestals"]!.AsArray())
            foreach (var (leg, volts) in pedestal!["computed"]!.AsObject())
            {
                var said = published["pedestals"]![Text(pedestal, "name")!]![leg]!;
                Assert.Equal((double)said["volts"]!, (double)volts!, (double)said["sd"]! / 2);
                Assert.Equal((double)said["amps"]!, (double)pedestal["amps"]![leg]!, 0.06);
            }
        Assert.NotEmpty(then["without"]!.AsArray());
        Assert.Equal(404, await service.Status($"/api/docks/G?at={DateTimeOffset.UtcNow.AddDays(-2):yyyy-MM-dd'T'HH:mm:ss'Z'}"));
        Assert.Equal(400, await service.Status($"/api/docks/G?at={DateTimeOffset.UtcNow.AddDays(2):yyyy-MM-dd'T'HH:mm:ss'Z'}"));
        var series = await service.Get($"/api/pedestals/G2/series?outlet=A&from={Text(published, "time")![..14]}00:00Z&to={DateTimeOffset.UtcNow.AddMinutes(1):yyyy-MM-dd'T'HH:mm:ss'Z'}");
        Assert.Equal(31.4, series["points"]!.AsArray().Max(point => (double)point!["amps"]!["L1"]!["most"]!));
    }

    [Fact]
    public async Task A_boat_that_asks_is_told_why_no_slip_is_free()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);
        await Overload(broker);
        await service.WhenView(view => (bool?)view["docks"]![0]?["whole"] == true);
        const string Boat = "beam=3&draught=1&rating=30&from=2030-07-13T12:00:00Z&until=2030-07-14T12:00:00Z";

        var found = await service.Get($"/api/slips/offers?length=8.5&{Boat}");
        Assert.Empty(found["offers"]!.AsArray());
        Assert.Equal(
            ["is in use (2.0 A), though nobody is said to lie there", "is in use (31.4 A), though nobody is said to lie there"],
            found["refused"]!.AsArray().Select(one => Text(one, "why")!).Order(StringComparer.Ordinal));
        Assert.Equal(400, await service.Status($"/api/slips/offers?length=0&{Boat}"));
    }

    [Fact]
    public async Task Another_site_file_is_checked_compared_and_used_from_the_next_start_on()
    {
        using var folder = new TemporaryFolder();
        await using var broker = await MosquittoBroker.Start(cancel);
        var text = await File.ReadAllTextAsync(SiteFile, cancel);
        var thicker = text.Replace("conductor: 2 AWG Al", "conductor: 4/0 AWG Al", StringComparison.Ordinal);
        await using (var service = await StartedService.Connected(SiteFile, broker, "--data", folder["data"]))
        {
            await Overload(broker);
            await service.WhenView(view => State(view) == "unacknowledged");

            var (status, mistakes) = await service.Post("/api/site/check", text.Replace("4/0 AWG Al", "4/0 AWG Zn", StringComparison.Ordinal));
            Assert.Equal((200, 9), (status, (int)Assert.Single(mistakes.AsArray())!["line"]!));
            Assert.Equal(422, (await service.Post("/api/site/apply", text.Replace("4/0 AWG Al", "4/0 AWG Zn", StringComparison.Ordinal))).Status);

            var (_, difference) = await service.Post("/api/site/difference", thicker);
            Assert.Contains(difference["changes"]!.AsArray(), one => Text(one, "thing") == "dock G, cable to G2" && Text(one, "after") == "4/0 AWG Al");
            var end = difference["volts"]!.AsArray().Single(one => Text(one, "pedestal") == "G2" && Text(one, "leg") == "L1")!;
            Assert.True((double)end["after"]! > (double)end["before"]! + 0.5);

            Assert.Equal(409, (await service.Post("/api/site/apply?over=0000", thicker)).Status);
            Assert.Equal(200, (await service.Post("/api/site/apply?over=" + Text(difference, "over"), thicker)).Status);
            Assert.Equal("2 AWG Al", Conductor(await service.Get("/api/docks/G/structure")));
        }
        await using var after = await StartedService.Connected(SiteFile, broker, "--data", folder["data"]);
        Assert.Equal("4/0 AWG Al", Conductor(await after.Get("/api/docks/G/structure")));
        Assert.Equal([thicker, text], (await after.Get("/api/site/versions")).AsArray().Select(version => Text(version, "text")));
    }

    [Fact]
    public async Task A_site_file_put_to_use_now_is_used_at_the_same_address_and_nothing_that_stands_is_forgotten()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        var text = await File.ReadAllTextAsync(SiteFile, cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);
        await Overload(broker);
        await service.WhenView(view => State(view) == "unacknowledged");
        Assert.Equal((200, "acknowledged"), Outcome(await service.Post($"/api/alarms/{Alarm}/acknowledge")));

        var (status, applied) = await service.Post("/api/site/apply?now=true", text.Replace("conductor: 2 AWG Al", "conductor: 4/0 AWG Al", StringComparison.Ordinal));
        Assert.Equal((200, true), (status, (bool)applied["begins-again"]!));
        await service.WhenBegunAgain();
        Assert.Equal("4/0 AWG Al", Conductor(await service.Get("/api/docks/G/structure")));
        await service.WhenView(view => State(view) == "acknowledged");
    }

    /// <summary>Against the OpenAPI initiative's rules, as Microsoft.OpenApi knows them.</summary>
    [Fact]
    public async Task The_api_describes_itself()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var service = await StartedService.Connected(SiteFile, broker);
        var text = (await service.Get("/api/openapi.json")).ToJsonString();
        var (document, diagnostic) = OpenApiDocument.Parse(text, OpenApiConstants.Json);

        Assert.Empty(diagnostic!.Errors);
        Assert.Equal(OpenApiSpecVersion.OpenApi3_1, diagnostic.SpecificationVersion);
        Assert.All(document!.Paths, path => Assert.StartsWith("/api/", path.Key, StringComparison.Ordinal));
        var operations = document.Paths.SelectMany(path => path.Value.Operations!.Select(operation => (path.Key, operation.Value))).ToList();
        Assert.All(operations, one => Assert.NotNull(one.Value.Summary));
        Assert.Contains("/api/alarms/{alarm}/shelve", document.Paths.Keys);
        var shelf = document.Components!.Schemas!["ShelfAsked"];
        Assert.Equal(["reason", "until"], shelf.Required!.Order());
        Assert.Equal("date-time", shelf.Properties!["until"].Format);
    }

    static string? State(JsonNode view) => view["alarms"]!.AsArray().Where(alarm => Text(alarm, "id") == Alarm).Select(alarm => Text(alarm, "state")).FirstOrDefault();

    static (int, string?) Outcome((int Status, JsonNode Body) answer) => (answer.Status, Text(answer.Body["alarm"], "state"));

    static (int, string?) Problem((int Status, JsonNode Body) answer) => (answer.Status, Text(answer.Body, "detail"));

    static string? Conductor(JsonNode dock) => Text(dock["cables"]!.AsArray().Single(cable => Text(cable, "to") == "G2"), "conductor");

    static JsonObject Shelf(int minutes, string reason) => new() { ["until"] = DateTimeOffset.UtcNow.AddMinutes(minutes).ToString("O"), ["reason"] = reason };

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

    static string? Text(JsonNode? node, string member) => (string?)node?[member];
}
