using System.Text.Json.Nodes;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Faults;

/// <summary>Servers that take the connection and do not answer: said aloud, and over without a restart.</summary>
public class NoAnswer
{
    const string Prefix = "farberth/v1/gullhaven/";

    readonly CancellationToken cancel = CancellationTokenSource.CreateLinkedTokenSource(
        TestContext.Current.CancellationToken, new CancellationTokenSource(TimeSpan.FromMinutes(3)).Token).Token;

    [Fact]
    public async Task A_broker_that_takes_the_connection_and_never_answers_is_away_until_it_does()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var proxy = new HoldingProxy(broker.Port);
        await using var service = await StartedService.Start("run", Twins.SiteFile, "--mqtt", $"127.0.0.1:{proxy.Port}", "--http", "http://127.0.0.1:0");
        await service.WhenView(view => ((string?)view["broker"]!["reason"] ?? "").Contains("no answer within", StringComparison.Ordinal)).WaitAsync(cancel);
        var (status, body) = await service.Health("ready");
        Assert.Equal(503, status);
        Assert.Contains("no answer within", body.ToJsonString(), StringComparison.Ordinal);
        Assert.Equal(200, (await service.Health("live")).Status);

        proxy.LetGo();
        await service.WhenView(view => (string)view["broker"]!["state"]! == "connected").WaitAsync(cancel);
    }

    /// <summary>The alarm is told without it, after the second that a hazard waits; then it is written down, once.</summary>
    [Fact]
    public Task A_journal_database_that_does_not_answer_holds_back_no_alarm_and_has_it_once_when_it_does() => Journal(TimeSpan.Zero);

    /// <summary><c>./Farberth.Acceptance.Tests -class '*.NoAnswer' -explicit only</c></summary>
    [Fact(Explicit = true)]
    public Task A_journal_database_that_answers_after_thirty_seconds_holds_back_no_alarm_and_has_it_once() => Journal(TimeSpan.FromSeconds(30));

    async Task Journal(TimeSpan answersAfter)
    {
        await using var server = new PostgresServer();
        await server.InitializeAsync();
        var database = await server.Database(cancel);
        await using var proxy = new HoldingProxy(server.Port);
        proxy.LetGo();
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var alarms = await broker.Subscribe(Prefix + "alarm/+", cancel);
        await using var service = await StartedService.Connected(
            Twins.SiteFile, broker, "--journal", database.Replace($"Port={server.Port}", $"Port={proxy.Port}", StringComparison.Ordinal));
        await WhenJournal(service, state => state["away"] is null);

        proxy.Hold();
        var held = TimeProvider.System.GetTimestamp();
        await broker.Publish(Prefix + "pedestal/G1/reading", PacedReadings.Reading(0, DateTimeOffset.UtcNow), cancel);
        await broker.Publish(PacedReadings.Topic, PacedReadings.Reading(0, DateTimeOffset.UtcNow, ("P0", 16)), cancel);
        var (topic, payload) = await alarms.Next(cancel);
        Assert.Equal((Prefix + "alarm/G.G2.P0.overload", "unacknowledged"), (topic, (string)JsonNode.Parse(payload)!["state"]!));
        await WhenJournal(service, state => state["away"] is not null);
        var (_, body) = await service.Health("ready");
        Assert.Contains("people are told without it", body.ToJsonString(), StringComparison.Ordinal);

        while (TimeProvider.System.GetElapsedTime(held) < answersAfter)
            await service.WhenTicked().WaitAsync(cancel);
        proxy.LetGo();
        await WhenJournal(service, state => state["away"] is null && (int)state["waiting"]! == 0);
        Assert.Equal("1", (await PostgresServer.Psql(database, "select count(*) from events where name = 'G.G2.P0.overload'", cancel)).Trim());
    }

    async Task WhenJournal(StartedService service, Func<JsonNode, bool> condition)
    {
        while (!condition((await service.Get("/api/journal"))["journal"]!))
            await service.WhenTicked().WaitAsync(cancel);
    }
}
