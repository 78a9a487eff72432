using System.Net;
using System.Net.Sockets;
using Farberth.Monitoring.Telemetry;
using MQTTnet.Protocol;
using MQTTnet.Server;

namespace Farberth.Adapters.Mqtt;

/// <param name="TooLarge">Publishes refused for their size.</param>
/// <param name="Dropped">Messages that a slow or absent subscriber did not get.</param>
public sealed record BrokerCounts(long TooLarge, long Dropped);

/// <summary>
/// A broker inside the process, for the demo and small sites. It keeps nothing on disk and drops the oldest messages of
/// a subscriber that lags: data that must not be lost needs a broker of its own. A client of MQTT 3.1.1 must name itself
/// (3.1.1 lets a server refuse an empty client id, MQTT-3.1.3-9); one of MQTT 5 is given a name.
/// </summary>
public sealed class EmbeddedBroker : IAsyncDisposable
{
    /// <summary>Well above what a message may have, so that the service sees and reports what is only somewhat too large.</summary>
    public const int LargestPayload = 4 * InboundDecoder.LargestPayload;

    const int MostPendingPerClient = 10_000;

    readonly MqttServer server;
    readonly int largestPayload;
    long tooLarge, dropped, named;

    EmbeddedBroker(MqttServerOptions options, int largestPayload)
    {
        this.largestPayload = largestPayload;
        server = new MqttServerFactory().CreateMqttServer(options);
        server.ValidatingConnectionAsync += Name;
        server.InterceptingPublishAsync += Check;
        server.ApplicationMessageEnqueuedOrDroppedAsync += message => Drop(message.IsDropped);
        server.QueuedApplicationMessageOverwrittenAsync += _ => Drop(true);
    }

    /// <summary>TCP port it listens on.</summary>
    public int Port { get; private set; }

    public BrokerCounts Counts => new(Volatile.Read(ref tooLarge), Volatile.Read(ref dropped));

    /// <param name="port">0: any free one.</param>
    /// <param name="address">Null: this machine only. Anybody who can reach another address can publish there.</param>
    /// <exception cref="IOException">The port is taken, or may not be used.</exception>
    public static async Task<EmbeddedBroker> Start(
        int port = MqttOptions.PlainPort, IPAddress? address = null, int largestPayload = LargestPayload)
    {
        address ??= IPAddress.Loopback;
        var options = new MqttServerOptionsBuilder()
            .WithDefaultEndpoint()
            .WithDefaultEndpointPort(port)
            .WithDefaultEndpointBoundIPAddress(address)
            .WithDefaultEndpointBoundIPV6Address(IPAddress.None)
            .WithPersistentSessions()
            .WithMaxPendingMessagesPerClient(MostPendingPerClient)
            .Build();
        var broker = new EmbeddedBroker(options, largestPayload);
        try
        {
            await broker.server.StartAsync().ConfigureAwait(false);
        }
        catch (SocketException e)
        {
            broker.server.Dispose();
            throw new IOException($"the broker cannot listen on {address}:{port}: {e.Message}", e);
        }
        broker.Port = options.DefaultEndpointOptions.Port;
        return broker;
    }

    public async ValueTask DisposeAsync()
    {
        await server.StopAsync(new MqttServerStopOptionsBuilder().Build()).ConfigureAwait(false);
        server.Dispose();
    }

    Task Name(ValidatingConnectionEventArgs client)
    {
        if (string.IsNullOrEmpty(client.ClientId))
            client.AssignedClientIdentifier = $"unnamed-{Interlocked.Increment(ref named)}";
        return Task.CompletedTask;
    }

    Task Check(InterceptingPublishEventArgs publish)
    {
        if (publish.ApplicationMessage.Payload.Length <= largestPayload)
            return Task.CompletedTask;
        Interlocked.Increment(ref tooLarge);
        publish.ProcessPublish = false;
        publish.Response.ReasonCode = MqttPubAckReasonCode.QuotaExceeded;
        publish.Response.ReasonString = $"the payload is over {largestPayload} bytes";
        return Task.CompletedTask;
    }

    Task Drop(bool isDropped)
    {
        if (isDropped)
            Interlocked.Increment(ref dropped);
        return Task.CompletedTask;
    }
}
