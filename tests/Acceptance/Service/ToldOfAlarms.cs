using System.Text.Json.Nodes;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Service;

/// <summary>The real service, a real broker, and somebody else's web server that wants to be told: what is told, in spite of what fails.</summary>
public sealed class ToldOfAlarms : IClassFixture<PostgresServer>, IAsyncLifetime
{
    const string Prefix = "farberth/v1/gullhaven/";

    static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml");

    readonly CancellationTokenSource giveUp = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
    readonly TemporaryFolder folder = new();
    readonly PostgresServer postgres;
    MosquittoBroker broker = null!;
    HttpReceiver receiver = null!;

    public ToldOfAlarms(PostgresServer postgres)
    {
        this.postgres = postgres;
        giveUp.CancelAfter(TimeSpan.FromMinutes(2));
    }

    CancellationToken Cancel => giveUp.Token;

    public async ValueTask InitializeAsync()
    {
        (broker, receiver) = (await MosquittoBroker.Start(Cancel), await HttpReceiver.Start());
        await File.WriteAllTextAsync(folder["key"], "a key of this test", Cancel);
        await File.WriteAllTextAsync(folder["notify.yaml"], $$"""
            webhook: { key: { file: key } }
            people:
              - { name: Ana, role: electrician, webhook: "{{receiver.Url}}/ana" }
            """, Cancel);
    }

    public async ValueTask DisposeAsync()
    {
        await broker.DisposeAsync();
        await receiver.DisposeAsync();
        folder.Dispose();
        giveUp.Dispose();
    }

    [Fact]
    public async Task Who_could_not_be_told_before_the_power_went_is_told_after_it_and_once()
    {
        receiver.AnswerWith(503);
        await using (var service = await Start())
        {
            await Overload();
            await receiver.Next();
            await service.Kill();
        }
        receiver.AnswerWith(204);
        string id;
        await using (var service = await Start())
        {
            var told = await NextRaise();
            id = (string)told["id"]!;
            Assert.StartsWith("G.G2.A.overload ", id);
            var page = await service.Get("/api/journal/events?alarm=G.G2.A.overload&slip=G-2&dock=G&from=2020-01-01T00:00:00Z&limit=1");
            Assert.Equal(("G.G2.A.overload", "unacknowledged", "the limit was passed"),
                ((string)page["events"]![0]!["id"]!, (string)page["events"]![0]!["state"]!, (string)page["events"]![0]!["reason"]!));
            Assert.Equal((null, 0), ((string?)(await service.Get("/api/journal"))["journal"]!["away"], (int)(await service.Get("/api/journal"))["journal"]!["lost"]!));
        }
        await using (var service = await Start())
        {
            // Only when it is over can it be raised anew.
            await OverloadTwice(service, amps: 2);
            await service.WhenView(view => (string?)view["alarms"]![0]?["state"] == "returned-unacknowledged");
            await OverloadTwice(service, volts: 113.9);
            Assert.NotEqual(id, (string)(await NextRaise())["id"]!);
        }
    }

    [Fact]
    public async Task With_the_database_away_people_are_told_and_it_has_everything_once_it_is_there()
    {
        var there = await postgres.Database(Cancel);
        await using var service = await Start("--journal", there + "_later");
        await using var alarms = await broker.Subscribe(Prefix + "alarm/+", Cancel);
        await Overload();
        var told = await NextRaise();
        Assert.Equal(Prefix + "alarm/G.G2.A.overload", (await alarms.Next(Cancel)).Topic);

        await PostgresServer.Psql(there, $"CREATE DATABASE {there[(there.LastIndexOf('=') + 1)..]}_later", Cancel);
        string waiting;
        do
            waiting = await Delivered(there + "_later");
        while (waiting != (string)told["id"]!);
    }

    [Fact]
    public async Task A_file_of_contacts_with_mistakes_starts_nothing_and_shows_no_secret()
    {
        await File.WriteAllTextAsync(folder["bad.yaml"], "people:\n  - { name: Ana, role: electrician, mail: \"ana\" }\nwebhook: { key: hunter2 }\n", Cancel);
        var ended = await FarberthCommand.Run("run", SiteFile, "--broker", "0", "--http", "http://127.0.0.1:0", "--data", folder["data"], "--notify", folder["bad.yaml"]);

        Assert.Equal(1, ended.Status);
        Assert.Matches(@"bad\.yaml:2:\d+: ", ended.Errors);
        Assert.Matches(@"bad\.yaml:3:\d+: A secret does not stand in this file", ended.Errors);
        Assert.DoesNotContain("hunter2", ended.Errors);
    }

    [Theory]
    [InlineData("Host=localhost;Password=hunter2")]
    [InlineData("nonsense")]
    public async Task A_password_on_the_command_line_and_nonsense_are_wrong_usage(string connection)
    {
        var ended = await FarberthCommand.Run("run", SiteFile, "--broker", "0", "--journal", connection);

        Assert.Equal(2, ended.Status);
        Assert.Contains("--journal must", ended.Errors);
        Assert.DoesNotContain("hunter2", ended.Errors);
    }

    Task<StartedService> Start(params string[] more) =>
        StartedService.Connected(SiteFile, broker, ["--data", folder["data"], "--notify", folder["notify.yaml"], .. more]);

    /// <summary>One reading alone may be a motor's start or end.</summary>
    async Task OverloadTwice(StartedService service, double volts = 114.6, double amps = 31.4)
    {
        await Overload(volts, amps);
        await service.WhenView(view => view["docks"]![0]!["outlets"]!.AsArray() is { Count: > 0 } outlets && outlets.Max(outlet => (double)outlet!["amps"]!) == amps);
        await Overload(volts, amps);
    }

    async Task Overload(double volts = 114.6, double amps = 31.4)
    {
        await broker.Publish(Prefix + "pedestal/G1/reading", Reading(119.1, 2), Cancel);
        await broker.Publish(Prefix + "pedestal/G2/reading", Reading(volts, amps), Cancel);
    }

    static string Reading(double volts, double amps) => new JsonObject
    {
        ["time"] = DateTimeOffset.UtcNow.ToString("O"), ["volts"] = new JsonObject { ["L1"] = volts, ["L2"] = 120.3 },
        ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps } } },
    }.ToJsonString();

    async Task<JsonNode> NextRaise()
    {
        while (true)
        {
            var request = await receiver.Next();
            Assert.Contains("farberth=:", request.Headers["Signature"]);
            var told = JsonNode.Parse(request.Body)!;
            if ((string)told["subject"]! == "G.G2.A.overload" && (string)told["data"]!["state"]! == "unacknowledged")
                return told;
        }
    }

    /// <summary>By PostgreSQL's own client, which also says so while the table is not there yet.</summary>
    async Task<string> Delivered(string database)
    {
        const string Rows = "SELECT e.key FROM outbox o JOIN events e ON e.number = o.event WHERE o.state = 'delivered' AND e.name = 'G.G2.A.overload' AND e.state = 'unacknowledged'";
        try
        {
            return (await PostgresServer.Psql(database, Rows, Cancel)).Trim();
        }
        catch (InvalidOperationException e) when (e.Message.Contains("does not exist", StringComparison.Ordinal))
        {
            return "";
        }
    }
}
