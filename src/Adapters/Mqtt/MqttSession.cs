using System.Buffers;
using System.Threading.Channels;
using Farberth.Monitoring.Telemetry;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Protocol;

namespace Farberth.Adapters.Mqtt;

/// <summary>
/// One connection of a <see cref="MqttLink"/>, from its opening to its end; never used again afterwards.
///
/// The library hands over messages one after another from a queue of its own that has no bound, so its handler must
/// never wait: it puts the message into the inlet and the acknowledgement into a second bounded queue, from which one
/// loop sends them in the order of arrival (MQTT-4.6.0-2), each when it has been confirmed. While the inlet is nearly
/// full that loop sends none, and a broker that keeps to the receive maximum stops. One that does not (Mosquitto 2.0.11
/// was measured to release a whole window for each acknowledgement) fills the inlet: then the session ends, and what was
/// not acknowledged stays with the broker until there is room.
/// </summary>
sealed class MqttSession : IAsyncDisposable
{
    readonly IMqttClient client = new MqttClientFactory().CreateMqttClient();
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

    /// <param name="noMoreConfirmations">Nobody will confirm any more: what has not been by then is left to the broker.</param>
    public MqttSession(
        MqttOptions options, Inlet inlet, Confirmations confirmations, LinkCounters counters, TimeProvider time, CancellationToken noMoreConfirmations)
    {
        (this.options, this.inlet, this.confirmations, this.counters, this.time) = (options, inlet, confirmations, counters, time);
        this.noMoreConfirmations = noMoreConfirmations;
        closing = new CancellationTokenSource(Timeout.InfiniteTimeSpan, time);
        // Those in the inlet, and as many again that the reader has in hand.
        acknowledgements = Channel.CreateBounded<(long, MqttApplicationMessageReceivedEventArgs)>(2 * options.Capacity);
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
                EndIfSilent();
            return new PublishResult(PublishStatus.Away, late.IsCancellationRequested ? "the broker did not answer in time" : Innermost(e));
        }
    }

    void Heard() => Volatile.Write(ref heard, time.GetTimestamp());

    /// <summary>
    /// Behind a cable that was pulled nobody says that the connection is gone, and the library sends no ping while it is given something to
    /// publish. A broker that answers late but sends messages is there.
    /// </summary>
    void EndIfSilent()
    {
        if (time.GetElapsedTime(Volatile.Read(ref heard)) >= options.AnswerWithin)
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
        closing.Dispose();
    }

    Task Take(MqttApplicationMessageReceivedEventArgs arrived)
    {
        arrived.AutoAcknowledge = false;
        Heard();
        var isKeptByBroker = arrived.ApplicationMessage.QualityOfServiceLevel != MqttQualityOfServiceLevel.AtMostOnce;
        // After the end nothing more is taken, so that the order is kept when the broker sends the rest again.
        if (!ended.Task.IsCompleted && inlet.TryWrite(new RecordedMessage(time.GetUtcNow(), Copy(arrived.ApplicationMessage)), out var number))
        {
            counters.Received();
            if (isKeptByBroker && !acknowledgements.Writer.TryWrite((number, arrived)))
                Overrun();
            return Task.CompletedTask;
        }
        if (!isKeptByBroker)
            counters.Lost();
        Overrun();
        return Task.CompletedTask;
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
                // After the end nothing more is taken, so there is nothing left to hold back.
                if (inlet.IsNearlyFull && !ended.Task.IsCompleted)
                    await Task.WhenAny(inlet.HalfEmptied(closing.Token), ended.Task).ConfigureAwait(false);
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
