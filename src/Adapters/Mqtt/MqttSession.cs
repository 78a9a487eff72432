using System.Buffers;
using System.Threading.Channels;
using Farberth.Monitoring.Telemetry;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Packets;
using MQTTnet.Protocol;

namespace Farberth.Adapters.Mqtt;

/// <summary>
/// One connection of a <see cref="MqttLink"/>, from its opening to its end; never used again afterwards.
///
/// A message is let through from the socket when the inlet has a place for it. The library's handler puts it there, and
/// the acknowledgement into a queue from which one loop sends them in the order of arrival (MQTT-4.6.0-2), each when it
/// has been confirmed. The receive maximum alone does not hold a broker back (Mosquitto 2.0.11 was measured to release a
/// whole window for each acknowledgement), but a full socket does. If no place becomes free for long, nobody hears the
/// broker's answers either: then the session ends, and what was not acknowledged stays with the broker until there is
/// room.
/// </summary>
sealed class MqttSession : IAsyncDisposable
{
    readonly IMqttClient client;
    readonly CancellationTokenSource closing;
    readonly TaskCompletionSource<LinkFailure> ended = new(TaskCreationOptions.RunContinuationsAsynchronously);
    readonly MqttOptions options;
    readonly Inlet inlet;
    readonly Confirmations confirmations;
    readonly LinkCounters counters;
    readonly TimeProvider time;
    readonly CancellationToken noMoreConfirmations;
    readonly Channel<(long Number, MqttApplicationMessageReceivedEventArgs Arrived)> acknowledgements;
    Task acknowledging = Task.CompletedTask;
    long heard;

    /// <summary>Places in the inlet of messages that the library has in hand.</summary>
    int underWay;

    /// <param name="noMoreConfirmations">Nobody will confirm any more: what has not been by then is left to the broker.</param>
    public MqttSession(
        MqttOptions options, Inlet inlet, Confirmations confirmations, LinkCounters counters, TimeProvider time, CancellationToken noMoreConfirmations)
    {
        (this.options, this.inlet, this.confirmations, this.counters, this.time) = (options, inlet, confirmations, counters, time);
        this.noMoreConfirmations = noMoreConfirmations;
        closing = new CancellationTokenSource(Timeout.InfiniteTimeSpan, time);
        acknowledgements = Channel.CreateBounded<(long, MqttApplicationMessageReceivedEventArgs)>(options.Capacity);
        client = new MqttClientFactory().CreateMqttClient(new PatientAdapters(WhenThereIsRoom));
        client.ApplicationMessageReceivedAsync += Take;
        client.DisconnectedAsync += lost =>
        {
            ended.TrySetResult(new LinkFailure(LinkPhase.Waiting, Describe(lost)));
            return Task.CompletedTask;
        };
    }

    /// <summary>Done when the connection is of no more use, with the reason.</summary>
    public Task<LinkFailure> Ended => ended.Task;

    /// <summary>Connects and subscribes; null when both are granted.</summary>
    public async Task<LinkFailure?> Open(IReadOnlyList<string> filters, CancellationToken cancel)
    {
        using var late = new CancellationTokenSource(options.AnswerWithin, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(cancel, late.Token);
        try
        {
            // The session may hold messages that come before the subscription is answered.
            acknowledging = Acknowledge();
            var connected = await client.ConnectAsync(MqttTerms.ToClientOptions(options), either.Token).ConfigureAwait(false);
            Heard();
            if (MqttTerms.Failure(connected) is { } refused)
                return refused;
            return filters.Count == 0 ? null : MqttTerms.Failure(
                await client.SubscribeAsync(MqttTerms.ToSubscription(filters, options.Version), either.Token).ConfigureAwait(false));
        }
        // Whatever the library, the socket or the TLS layer throws, there is no connection, and the link tries again.
        catch (Exception e)
        {
            cancel.ThrowIfCancellationRequested();
            var reason = late.IsCancellationRequested ? $"no answer within {options.AnswerWithin.TotalSeconds} s" : Innermost(e);
            return new LinkFailure(LinkPhase.Waiting, $"{options.Host}:{options.Port}: {reason}");
        }
    }

    public async Task<PublishResult> Publish(WireMessage message, CancellationToken cancel)
    {
        var outgoing = new MqttApplicationMessage
        {
            Topic = message.Topic,
            Payload = new ReadOnlySequence<byte>(message.Payload),
            Retain = message.Retain,
            QualityOfServiceLevel = MqttQualityOfServiceLevel.AtLeastOnce,
        };
        var asked = time.GetTimestamp();
        using var late = new CancellationTokenSource(options.AnswerWithin, time);
        try
        {
            // Not cancelled in the middle: an answer that nobody waits for any more would end the connection.
            var result = await client.PublishAsync(outgoing, late.Token).WaitAsync(cancel).ConfigureAwait(false);
            Heard();
            return result.IsSuccess ? default
                : new PublishResult(PublishStatus.Refused, MqttTerms.Join($"the broker answered {result.ReasonCode}", result.ReasonString));
        }
        catch (MqttProtocolViolationException e)
        {
            return new PublishResult(PublishStatus.Refused, e.Message);
        }
        // As above: whatever it was, there is no answer from the broker.
        catch (Exception e)
        {
            cancel.ThrowIfCancellationRequested();
            if (late.IsCancellationRequested)
                EndIfSilentSince(asked);
            return new PublishResult(PublishStatus.Away, late.IsCancellationRequested ? "the broker did not answer in time" : Innermost(e));
        }
    }

    void Heard() => Volatile.Write(ref heard, time.GetTimestamp());

    /// <summary>
    /// Behind a cable that was pulled nobody says that the connection is gone, and the library sends no ping while it is given something to
    /// publish. A broker that answers late but sends messages is there.
    /// </summary>
    void EndIfSilentSince(long asked)
    {
        if (Volatile.Read(ref heard) <= asked)
            ended.TrySetResult(new LinkFailure(LinkPhase.Waiting, $"no answer within {options.AnswerWithin.TotalSeconds} s"));
    }

    /// <summary>
    /// Acknowledges the rest of what was confirmed and says good-bye, where there is still somebody to say it to. The
    /// broker keeps the session.
    /// </summary>
    public async ValueTask DisposeAsync()
    {
        ended.TrySetResult(new LinkFailure(LinkPhase.Waiting, "closed"));
        acknowledgements.Writer.TryComplete();
        closing.CancelAfter(options.AnswerWithin);
        await acknowledging.ConfigureAwait(false);
        if (client.IsConnected)
        {
            using var late = new CancellationTokenSource(options.AnswerWithin, time);
            try
            {
                await client.DisconnectAsync(new MqttClientDisconnectOptions(), late.Token).ConfigureAwait(false);
            }
            catch (Exception e) when (e is MqttCommunicationException or OperationCanceledException or ObjectDisposedException)
            {
                // The connection was lost on the way out: it is closed all the same.
            }
        }
        client.Dispose();
        inlet.Release(Interlocked.Exchange(ref underWay, 0));
        closing.Dispose();
    }

    ValueTask WhenThereIsRoom(MqttPublishPacket packet, CancellationToken cancel)
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

    async Task Take(MqttApplicationMessageReceivedEventArgs arrived)
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
            ended.TrySetResult(new LinkFailure(LinkPhase.Waiting, $"acknowledging failed: {Innermost(e)}"));
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

    static string Describe(MqttClientDisconnectedEventArgs lost) =>
        lost.Exception is { } e ? $"connection lost: {Innermost(e)}"
            : lost.Reason == MqttClientDisconnectReason.NormalDisconnection ? "connection closed by the broker"
            : MqttTerms.Join($"the broker ended the connection: {lost.Reason}", lost.ReasonString);

    static string Innermost(Exception e) => e.GetBaseException().Message;
}
