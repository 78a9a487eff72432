using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Tests.Mqtt;

/// <summary>What every test against a broker needs: a time after which it gives up, links with short waits, messages as text.</summary>
public abstract class BrokerTests : IDisposable
{
    readonly CancellationTokenSource giveUp = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);

    protected BrokerTests() => giveUp.CancelAfter(TimeSpan.FromSeconds(60));

    protected CancellationToken Cancel => giveUp.Token;

    protected static MqttOptions Options(string host, int port) => new(host, port, "farberth-test")
    {
        Backoff = new Backoff(TimeSpan.FromMilliseconds(20), TimeSpan.FromMilliseconds(200)),
    };

    protected async Task<MqttLink> Connect(MqttOptions options, params string[] filters)
    {
        var link = MqttLink.Start(options, filters);
        await link.State.When(state => state.Phase == LinkPhase.Connected, Cancel);
        return link;
    }

    protected async Task<(string Topic, string Payload)> Next(MqttLink link)
    {
        var message = (await Taken(link)).Message;
        return (message.Topic, Text(message.Payload));
    }

    /// <summary>The next message, confirmed.</summary>
    protected async Task<RecordedMessage> Taken(MqttLink link)
    {
        var arrival = await link.Messages.ReadAsync(Cancel);
        link.Confirm(arrival.Number);
        return arrival.Recorded;
    }

    protected static string Text(ReadOnlyMemory<byte> payload) => System.Text.Encoding.UTF8.GetString(payload.Span);

    protected static WireMessage Message(string topic, string payload, bool retain = false) =>
        new(topic, System.Text.Encoding.UTF8.GetBytes(payload), retain);

    public void Dispose()
    {
        giveUp.Dispose();
        GC.SuppressFinalize(this);
    }
}
