using System.Collections.Concurrent;
using System.Text.Json.Nodes;
using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Monitoring.Telemetry;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Faults;

/// <summary>
/// Two services of the same site, each with a broker of its own, that are sent the same messages: one is disturbed, the other is not.
/// </summary>
sealed class Twins : IAsyncDisposable
{
    const string Prefix = "farberth/v1/gullhaven/";

    public static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven-many-outlets.yaml");

    readonly TemporaryFolder folder = new();
    readonly MosquittoBroker calmBroker;
    readonly MqttLink[] pedestals;
    readonly StartedService calm;
    readonly string[] journal;
    ConcurrentQueue<WireMessage> before = [], lately = [];

    Twins(MosquittoBroker calmBroker, MosquittoBroker broker, StartedService calm, string[] journal)
    {
        (this.calmBroker, Broker, this.calm, this.journal) = (calmBroker, broker, calm, journal);
        pedestals = [Pedestals(calmBroker), Pedestals(broker)];
    }

    public MosquittoBroker Broker { get; }

    public StartedService Disturbed { get; private set; } = null!;

    public string Data => folder["disturbed"];

    /// <summary>Messages published so far that both brokers have acknowledged.</summary>
    public long Published { get; private set; }

    /// <param name="journal">More arguments of the disturbed service: its journal elsewhere.</param>
    public static async Task<Twins> Start(CancellationToken cancel, params string[] journal)
    {
        var (calmBroker, broker) = (await MosquittoBroker.Start(cancel), await MosquittoBroker.Start(cancel));
        var twins = new Twins(calmBroker, broker, await StartedService.Connected(SiteFile, calmBroker), journal);
        await twins.StartDisturbed();
        return twins;
    }

    public async Task StartDisturbed() => Disturbed = await StartedService.Connected(SiteFile, Broker, ["--data", Data, .. journal]);

    public async Task KillService()
    {
        await Disturbed.Kill();
        await Disturbed.DisposeAsync();
    }

    /// <summary>The same bytes to both, each until its broker has said that it has them.</summary>
    public async Task Publish(string topic, JsonNode payload, CancellationToken cancel)
    {
        var message = new WireMessage(Prefix + topic, System.Text.Encoding.UTF8.GetBytes(payload.ToJsonString()));
        lately.Enqueue(message);
        await Task.WhenAll(pedestals.Select(link => Publish(link, message, cancel)));
        Published++;
    }

    public void BeginRound() => (before, lately) = (lately, []);

    /// <summary>
    /// A broker that was killed has lost what it had taken and not yet handed on, whatever it had said to the sender: all of this round and of the
    /// one before comes once more. What the service has already changes nothing.
    /// </summary>
    public async Task PublishAgain(CancellationToken cancel)
    {
        foreach (var message in before.Concat(lately).ToList())
            await Publish(pedestals[1], message, cancel);
    }

    /// <summary>The undisturbed one has gone on by a second.</summary>
    public Task WhenTicked(CancellationToken cancel) => calm.WhenTicked().WaitAsync(cancel);

    /// <summary>Both show these alarms and no others, and the disturbed one's broker holds just these.</summary>
    public async Task WhenStanding(IReadOnlyDictionary<string, string> expected, CancellationToken cancel)
    {
        await Shows("the undisturbed service", calm, expected, cancel);
        await Shows("the disturbed service", Disturbed, expected, cancel);
        var held = new Dictionary<string, string>();
        await using var subscription = await Broker.Subscribe(Prefix + "#", cancel);
        // What is retained comes before what is published each second, so whoever has seen two states has seen all of it.
        for (var states = 0; states < 2 || !Same(expected, held);)
        {
            var (topic, payload) = await Next(subscription, expected, held, cancel);
            if (topic.StartsWith(Prefix + "dock/", StringComparison.Ordinal))
                states++;
            else if (topic.StartsWith(Prefix + "alarm/", StringComparison.Ordinal) && topic.Count(letter => letter == '/') == 4)
                Hold(held, topic[(Prefix.Length + 6)..], payload);
        }
    }

    /// <summary>Every step of every alarm in order, as each of the two has written it down.</summary>
    public async Task<(string[] Calm, string[] Disturbed)> Steps(CancellationToken cancel)
    {
        foreach (var service in new[] { calm, Disturbed })
            while ((await service.Get("/api/journal"))["journal"] is { } state && (state["away"] is not null || (int)state["waiting"]! > 0))
                await service.WhenTicked().WaitAsync(cancel);
        return (await Steps(calm, cancel), await Steps(Disturbed, cancel));
    }

    /// <summary>The seqs of a pedestal's readings in the disturbed one's history, after its end.</summary>
    public IReadOnlyList<long> Found(string pedestal, DateTimeOffset from)
    {
        using var history = History.OpenToRead(Path.Combine(Data, "history.sqlite"));
        return [.. history.Readings(pedestal, from, from.AddDays(2), int.MaxValue - 1).Rows.Select(reading => reading.Seq!.Value).Order()];
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var link in pedestals)
            await link.DisposeAsync();
        await Disturbed.DisposeAsync();
        await calm.DisposeAsync();
        await Broker.DisposeAsync();
        await calmBroker.DisposeAsync();
        folder.Dispose();
    }

    static MqttLink Pedestals(MosquittoBroker broker) => MqttLink.Start(
        new MqttOptions(broker.Host, broker.Port, "pedestals") { Backoff = new(TimeSpan.FromMilliseconds(50), TimeSpan.FromMilliseconds(500)) }, []);

    static async Task Publish(MqttLink link, WireMessage message, CancellationToken cancel)
    {
        while (!(await link.Publish(message, cancel)).IsAccepted)
            await link.State.When(state => state.Phase == LinkPhase.Connected, cancel);
    }

    static async Task Shows(string who, StartedService service, IReadOnlyDictionary<string, string> expected, CancellationToken cancel)
    {
        var seen = new Dictionary<string, string>();
        try
        {
            await service.WhenView(view => Same(expected, seen = Standing(view))).WaitAsync(cancel);
        }
        catch (OperationCanceledException e)
        {
            throw new TimeoutException($"{who}: expected [{string.Join(", ", expected)}], seen [{string.Join(", ", seen)}]", e);
        }
    }

    static async Task<(string Topic, string Payload)> Next(
        MosquittoSubscription subscription, IReadOnlyDictionary<string, string> expected, Dictionary<string, string> held, CancellationToken cancel)
    {
        try
        {
            return await subscription.Next(cancel);
        }
        catch (OperationCanceledException e)
        {
            throw new TimeoutException($"expected [{string.Join(", ", expected)}], the broker holds [{string.Join(", ", held)}]", e);
        }
    }

    static async Task<string[]> Steps(StartedService service, CancellationToken cancel)
    {
        var steps = new List<string>();
        for (string? before = ""; before is not null;)
        {
            var page = await Page(service, $"/api/journal/events?limit=1000{before}", cancel);
            steps.AddRange(page["events"]!.AsArray().Where(one => one!["id"] is not null).Select(one => $"{(string)one!["id"]!} {(string)one["state"]!}"));
            before = page["next"] is { } next ? $"&before={(long)next}" : null;
        }
        steps.Reverse();
        // Of two alarms at the same tick, either may come first.
        return [.. steps.OrderBy(step => step[..step.IndexOf(' ', StringComparison.Ordinal)], StringComparer.Ordinal)];
    }

    /// <summary>The first question after the database was killed finds the old connection dead, and is to be asked again.</summary>
    static async Task<JsonNode> Page(StartedService service, string path, CancellationToken cancel)
    {
        while (await service.Status(path) != 200)
            await service.WhenTicked().WaitAsync(cancel);
        return await service.Get(path);
    }

    static Dictionary<string, string> Standing(JsonNode view) =>
        view["alarms"]!.AsArray().ToDictionary(alarm => (string)alarm!["id"]!, alarm => (string)alarm!["state"]!);

    static bool Same(IReadOnlyDictionary<string, string> one, Dictionary<string, string> other) => one.Count == other.Count && !one.Except(other).Any();

    static void Hold(Dictionary<string, string> held, string alarm, string payload)
    {
        if (payload.Length == 0)
            held.Remove(alarm);
        else
            held[alarm] = (string)JsonNode.Parse(payload)!["state"]!;
    }
}
