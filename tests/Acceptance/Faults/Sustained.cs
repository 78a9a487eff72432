using System.Globalization;
using System.Text.Json.Nodes;
using Farberth.Tests.Fixtures;
using MQTTnet;
using MQTTnet.Protocol;

namespace Farberth.Acceptance.Tests.Faults;

/// <summary>
/// Measured, not judged, for <c>farberth run</c> as it is shipped, against Debian's Mosquitto:
/// <c>./Farberth.Acceptance.Tests -class '*.Sustained' -explicit only -showliveoutput</c>. SOAK_MINUTES (30), LATENCIES (75).
/// </summary>
public class Sustained(ITestOutputHelper output)
{
    const int Kept = 60_000, Rounds = 7;

    // Above the site's limit of 15 A.
    const double High = 16, Low = 5;

    const string Acknowledged = "farberth_messages_acknowledged_total", Published = "farberth_messages_published_total", Connections = "farberth_broker_connections_total";

    static readonly CancellationToken Cancel = TestContext.Current.CancellationToken;

    static int Asked(string name, int usual) => int.TryParse(Environment.GetEnvironmentVariable(name), out var asked) ? asked : usual;

    /// <summary>What a broker has kept while neither was connected, the service's process being stopped meanwhile; each alone, and warm.</summary>
    [Fact(Explicit = true)]
    public async Task Messages_a_second_of_the_whole_service_and_of_a_bare_subscriber()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var service = await StartedService.Connected(Twins.SiteFile, broker);
        await (await Bare(broker, () => { })).DisconnectAsync(new MqttClientDisconnectOptions(), Cancel);
        var ratios = new List<double>();
        for (var round = 0; round <= Rounds; round++)
        {
            var (before, connections) = (await service.Metric(Acknowledged), await service.Metric(Connections));
            await broker.Stop(Cancel);
            await Command.Run("kill", ["-STOP", $"{service.Id}"], Cancel);
            await broker.Restart(Cancel);
            var from = DateTimeOffset.UtcNow;
            await broker.PublishLines(PacedReadings.Topic, Enumerable.Range(0, Kept).Select(seq => PacedReadings.Reading(seq, from.AddMilliseconds(seq - Kept))), Cancel);
            var bare = await BareRate(broker);
            var its = await ServiceRate(service, before + Kept);
            var again = await service.Metric(Connections) - connections - 1;
            output.WriteLine($"{Kept} kept readings: bare subscriber {bare:N0} messages/s, service {its:N0} acknowledged/s: {its / bare:0.00}; from {before:N0}, connected again {again} times{(round == 0 ? ", cold: not counted" : "")}");
            if (round > 0)
                ratios.Add(its / bare);
        }
        output.WriteLine($"median of the ratios {ratios.Order().ElementAt(Rounds / 2):0.00}");
    }

    [Fact(Explicit = true)]
    public async Task Memory_minute_by_minute_at_a_thousand_messages_a_second()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var service = await StartedService.Connected(Twins.SiteFile, broker);
        await using var readings = await PacedReadings.Start(broker, perSecond: 1000, Cancel);
        for (var minute = 1; minute <= Asked("SOAK_MINUTES", 30); minute++)
        {
            await readings.Send(60_000, Cancel);
            output.WriteLine($"minute {minute}: {ResidentMegabytes(service.Id):0} MB, {await service.Metric("farberth_messages_acknowledged_total"):N0} of {readings.Sent:N0} acknowledged");
        }
    }

    /// <summary>
    /// An alarm is raised at a tick, and its delay of one second begins at the tick that first saw its cause: what passes
    /// beyond the delay is the wait for that tick, and the rest.
    /// </summary>
    [Fact(Explicit = true)]
    public async Task From_the_reading_to_the_alarm_at_a_thousand_messages_a_second()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var alarms = await broker.Subscribe("farberth/v1/gullhaven/alarm/+", Cancel);
        await using var service = await StartedService.Connected(Twins.SiteFile, broker);
        // Nothing is judged before each pedestal was heard.
        await broker.Publish("farberth/v1/gullhaven/pedestal/G1/reading", PacedReadings.Reading(0, DateTimeOffset.UtcNow), Cancel);
        await using var readings = await PacedReadings.Start(broker, perSecond: 1000, Cancel);
        var (waited, rest, random) = (new List<double>(), new List<double>(), new Random(7));
        for (var step = 0; step < Asked("LATENCIES", 75); step++)
        {
            var (outlet, before) = ($"P{step % 40}", ($"P{(step + 39) % 40}", Low));
            // Long enough for the one before to be low, and each at another part of a second: else all would begin just after a tick.
            await readings.Send(3000 + random.Next(1000), Cancel, (outlet, Low), before);
            var sent = await readings.Send(10, Cancel, (outlet, High), before);
            var (since, arrived) = await Raised(alarms, readings, outlet);
            waited.Add((since - sent).TotalMilliseconds - 1000);
            rest.Add((arrived - since).TotalMilliseconds);
            TestContext.Current.SendDiagnosticMessage($"{step + 1}: {waited[^1]:0} ms and {rest[^1]:0} ms");
        }
        Write("beyond the alarm's own second", [.. waited.Zip(rest, (one, other) => one + other)]);
        Write("of it, waiting for the tick that first sees it", waited);
        Write("of it, from the tick that raises it to the subscriber", rest);
    }

    /// <summary>Readings go on until the outlet's alarm is raised: since when by its own word, and when that was heard.</summary>
    static async Task<(DateTimeOffset Since, DateTimeOffset Arrived)> Raised(MosquittoSubscription alarms, PacedReadings readings, string outlet)
    {
        var heard = Task.Run(async () =>
        {
            while (true)
                if (await alarms.Next(Cancel) is { Payload: { Length: > 0 } payload } next && next.Topic.EndsWith($".{outlet}.overload", StringComparison.Ordinal)
                    && JsonNode.Parse(payload)! is var alarm && (string)alarm["state"]! == "unacknowledged")
                    return (DateTimeOffset.Parse((string)alarm["since"]!, CultureInfo.InvariantCulture), DateTimeOffset.UtcNow);
        }, Cancel);
        while (!heard.IsCompleted)
            await readings.Send(10, Cancel, (outlet, High));
        return await heard;
    }

    void Write(string what, IReadOnlyList<double> milliseconds)
    {
        var sorted = milliseconds.Order().ToList();
        output.WriteLine($"{what}: median {sorted[sorted.Count / 2]:0} ms, 99th percentile {sorted[sorted.Count * 99 / 100]:0} ms, "
            + $"{100.0 * sorted.Count(one => one < 250) / sorted.Count:0} % under 250 ms, of {sorted.Count}");
    }

    /// <summary>From connecting to the last.</summary>
    static async Task<double> BareRate(MosquittoBroker broker)
    {
        var (taken, began, done) = (0, TimeProvider.System.GetTimestamp(), new TaskCompletionSource<double>());
        using var client = await Bare(broker, () =>
        {
            if (++taken == Kept)
                done.TrySetResult(Kept / TimeProvider.System.GetElapsedTime(began).TotalSeconds);
        });
        var rate = await done.Task.WaitAsync(Cancel);
        await client.DisconnectAsync(new MqttClientDisconnectOptions(), Cancel);
        return rate;
    }

    /// <summary>The library alone: it counts, and acknowledges by itself.</summary>
    static async Task<IMqttClient> Bare(MosquittoBroker broker, Action take)
    {
        var client = new MqttClientFactory().CreateMqttClient();
        client.ApplicationMessageReceivedAsync += _ =>
        {
            take();
            return Task.CompletedTask;
        };
        var options = new MqttClientOptionsBuilder().WithTcpServer(broker.Host, broker.Port).WithClientId("bare")
            .WithProtocolVersion(MQTTnet.Formatter.MqttProtocolVersion.V500).WithCleanStart(false).WithSessionExpiryInterval(86_400).Build();
        await client.ConnectAsync(options, Cancel);
        await client.SubscribeAsync(PacedReadings.Topic, MqttQualityOfServiceLevel.AtLeastOnce, Cancel);
        return client;
    }

    /// <summary>From letting its process go on, which then connects, to the first look that finds all acknowledged.</summary>
    static async Task<double> ServiceRate(StartedService service, double all)
    {
        var began = TimeProvider.System.GetTimestamp();
        await Command.Run("kill", ["-CONT", $"{service.Id}"], Cancel);
        await Reaches(service, Acknowledged, all);
        var rate = Kept / TimeProvider.System.GetElapsedTime(began).TotalSeconds;
        // What it publishes now goes the same way behind its acknowledgements: then the broker has heard them all.
        await Reaches(service, Published, await service.Metric(Published) + 2);
        return rate;
    }

    static async Task Reaches(StartedService service, string metric, double value)
    {
        // Not without a pause: who looks takes what they look at its processor.
        using var again = new PeriodicTimer(TimeSpan.FromMilliseconds(10));
        while (await service.Metric(metric) < value)
            await again.WaitForNextTickAsync(Cancel);
    }

    static double ResidentMegabytes(int process) => File.ReadLines($"/proc/{process}/status").Where(line => line.StartsWith("VmRSS:", StringComparison.Ordinal))
        .Select(line => double.Parse(line.Split(' ', StringSplitOptions.RemoveEmptyEntries)[1], CultureInfo.InvariantCulture) / 1024).First();
}
