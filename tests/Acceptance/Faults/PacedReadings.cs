using System.Globalization;
using System.Text.Json.Nodes;
using Farberth.Tests.Fixtures;
using MQTTnet;
using MQTTnet.Protocol;

namespace Farberth.Acceptance.Tests.Faults;

/// <summary>
/// Readings of pedestal G2 at a steady rate, at QoS 1, by the client library alone: mosquitto_pub was seen to take far fewer lines a second
/// from somebody who does not give them all at once.
/// </summary>
sealed class PacedReadings : IAsyncDisposable
{
    public const string Topic = "farberth/v1/gullhaven/pedestal/G2/reading";

    static readonly TimeSpan Beat = TimeSpan.FromMilliseconds(10);

    readonly IMqttClient client = new MqttClientFactory().CreateMqttClient();
    readonly long began = TimeProvider.System.GetTimestamp();
    readonly int perSecond;

    PacedReadings(int perSecond) => this.perSecond = perSecond;

    public long Sent { get; private set; }

    public static async Task<PacedReadings> Start(MosquittoBroker broker, int perSecond, CancellationToken cancel)
    {
        var readings = new PacedReadings(perSecond);
        await readings.client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer(broker.Host, broker.Port).WithClientId("paced").Build(), cancel);
        return readings;
    }

    /// <summary>Publishes so many, each when it is due, and waits for the broker's answers; the moment of the first.</summary>
    public async Task<DateTimeOffset> Send(int readings, CancellationToken cancel, params (string Outlet, double Amps)[] drawn)
    {
        using var beat = new PeriodicTimer(Beat);
        DateTimeOffset? first = null;
        for (var end = Sent + readings; Sent < end; await beat.WaitForNextTickAsync(cancel))
        {
            var due = (int)(Math.Min(end, (long)(TimeProvider.System.GetElapsedTime(began).TotalSeconds * perSecond)) - Sent);
            var now = DateTimeOffset.UtcNow;
            first ??= due > 0 ? now : null;
            await Task.WhenAll(Enumerable.Range(0, Math.Max(0, due)).Select(one => client.PublishStringAsync(
                Topic, Reading(Sent + one, now.AddMicroseconds(one), drawn), MqttQualityOfServiceLevel.AtLeastOnce, cancellationToken: cancel)));
            Sent += Math.Max(0, due);
        }
        return first!.Value;
    }

    public static string Reading(long seq, DateTimeOffset time, params (string Outlet, double Amps)[] drawn) => new JsonObject
    {
        ["time"] = time.ToString("O", CultureInfo.InvariantCulture),
        ["seq"] = seq,
        ["volts"] = new JsonObject { ["L1"] = Math.Round(120.8 - 0.2 * drawn.Sum(outlet => outlet.Amps), 1), ["L2"] = 120.3 },
        ["outlets"] = new JsonObject(drawn.Select(outlet => KeyValuePair.Create<string, JsonNode?>(
            outlet.Outlet, new JsonObject { ["amps"] = new JsonObject { ["L1"] = outlet.Amps } }))),
    }.ToJsonString();

    public async ValueTask DisposeAsync()
    {
        await client.DisconnectAsync(new MqttClientDisconnectOptions(), CancellationToken.None);
        client.Dispose();
    }
}
