using System.Buffers;
using System.Threading.Channels;
using Farberth.Monitoring.Telemetry;
using MQTTnet;
using MQTTnet.Packets;
using MQTTnet.Protocol;

namespace Farberth.Adapters.Mqtt;

/// <summary>
/// What one connection brings, into the inlet and acknowledged.
///
/// A message is let through from the socket when the inlet has a place for it. The library's handler puts it there, and
/// the acknowledgement into a queue from which one loop sends them in the order of arrival (MQTT-4.6.0-2), each when it
/// has been confirmed. The receive maximum alone does not hold a broker back (Mosquitto 2.0.11 was measured to release a
/// whole window for each acknowledgement), but a full socket does. If no place becomes free for long, nobody hears the
/// broker's answers either: then the session ends, and what was not acknowledged stays with the broker until there is
/// room.
/// </summary>
/// <param name="ended">The connection's end, with the reason; this may be what brings it.</param>
/// <param name="noMoreConfirmations">Nobody will confirm any more: what has not been by then is left to the broker.</param>
sealed class Receiving(
    MqttOptions options, Inlet inlet, Confirmations confirmations, LinkCounters counters, TimeProvider time,
    TaskCompletionSource<LinkFailure> ended, CancellationToken noMoreConfirmations) : IDisposable
{
    readonly CancellationTokenSource closing = new(Timeout.InfiniteTimeSpan, time);
    readonly Channel<(long Number, MqttApplicationMessageReceivedEventArgs Arrived)> acknowledgements =
        Channel.CreateBounded<(long, MqttApplicationMessageReceivedEventArgs)>(options.Capacity);
    Task acknowledging = Task.CompletedTask;
    long heard;

    /// <summary>Places in the inlet of messages that the library has in hand.</summary>
    int underWay;

    /// <summary>When the broker was last heard, a timestamp.</summary>
    public long LastHeard => Volatile.Read(ref heard);

    public void Heard() => Volatile.Write(ref heard, time.GetTimestamp());

    public void Begin() => acknowledging = Acknowledge();

    /// <summary>Acknowledges the rest of what was confirmed, where the broker still takes it.</summary>
    public Task Finish()
    {
        acknowledgements.Writer.TryComplete();
        closing.CancelAfter(options.AnswerWithin);
        return acknowledging;
    }

    /// <summary>The library has let go: what it had in hand does not come.</summary>
    public void Dispose()
    {
        inlet.Release(Interlocked.Exchange(ref underWay, 0));
        closing.Dispose();
    }

    public ValueTask WhenThereIsRoom(MqttPublishPacket packet, CancellationToken cancel)
    {
        Heard();
        var places = Inlet.Places(packet.Payload.Length);
        return TryReserve(places) ? ValueTask.CompletedTask : new(WaitForRoom(places, cancel));
    }

    async Task WaitForRoom(int places, CancellationToken cancel)
    {
        // Half of the time for an answer: whoever waits for one would else take the broker for dead.
        using var late = new CancellationTokenSource(options.AnswerWithin / 2, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(cancel, late.Token);
        try
        {
            while (!TryReserve(places))
                await inlet.HalfEmptied(either.Token).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            Overrun();
            throw;
        }
    }

    bool TryReserve(int places)
    {
        if (!inlet.TryReserve(places))
            return false;
        Interlocked.Add(ref underWay, places);
        return true;
    }

    public async Task Take(MqttApplicationMessageReceivedEventArgs arrived)
    {
        arrived.AutoAcknowledge = false;
        var message = arrived.ApplicationMessage;
        var isKeptByBroker = message.QualityOfServiceLevel != MqttQualityOfServiceLevel.AtMostOnce;
        var places = Inlet.Places(message.Payload.Length);
        Interlocked.Add(ref underWay, -places);
        // After the end nothing more is taken, so that the order is kept when the broker sends the rest again.
        if (ended.Task.IsCompleted)
        {
            inlet.Release(places);
            if (!isKeptByBroker)
                counters.Lost();
            return;
        }
        var number = inlet.Write(new RecordedMessage(time.GetUtcNow(), Copy(message)));
        counters.Received();
        if (isKeptByBroker && !acknowledgements.Writer.TryWrite((number, arrived)))
            await WaitToAcknowledge(number, arrived).ConfigureAwait(false);
    }

    /// <summary>What the library has in hand meanwhile has its places.</summary>
    async Task WaitToAcknowledge(long number, MqttApplicationMessageReceivedEventArgs arrived)
    {
        try
        {
            await acknowledgements.Writer.WriteAsync((number, arrived), closing.Token).ConfigureAwait(false);
        }
        catch (Exception e) when (e is ChannelClosedException or OperationCanceledException)
        {
            // The session is over: it comes again.
        }
    }

    void Overrun()
    {
        const string reason = "more messages came than were taken; the rest waits at the broker";
        if (ended.TrySetResult(new LinkFailure(LinkPhase.Waiting, reason, IsOverrun: true)))
            counters.Overran();
    }

    async Task Acknowledge()
    {
        try
        {
            using var confirmable = CancellationTokenSource.CreateLinkedTokenSource(closing.Token, noMoreConfirmations);
            await foreach (var (number, arrived) in acknowledgements.Reader.ReadAllAsync(closing.Token).ConfigureAwait(false))
            {
                await confirmations.Reached(number, confirmable.Token).ConfigureAwait(false);
                await arrived.AcknowledgeAsync(closing.Token).ConfigureAwait(false);
                counters.Acknowledged();
            }
        }
        catch (OperationCanceledException) when (closing.IsCancellationRequested || noMoreConfirmations.IsCancellationRequested)
        {
            // Not confirmed, or not taken by the broker in time: what is not acknowledged comes again.
        }
        // Without acknowledgements the broker sends nothing more, so the connection is of no more use, whatever it was.
        catch (Exception e)
        {
            ended.TrySetResult(new LinkFailure(LinkPhase.Waiting, $"acknowledging failed: {MqttTerms.Innermost(e)}"));
        }
    }

    WireMessage Copy(MqttApplicationMessage message)
    {
        var payload = message.Payload;
        if (payload.Length > MqttLink.LongestPayload)
        {
            payload = payload.Slice(0, MqttLink.LongestPayload);
            counters.WasCut();
        }
        return new WireMessage(message.Topic, payload.ToArray(), message.Retain);
    }
}
