using System.Buffers;
using Farberth.Monitoring.Telemetry;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Protocol;

namespace Farberth.Adapters.Mqtt;

/// <summary>One connection of a <see cref="MqttLink"/>, from its opening to its end; never used again afterwards.</summary>
sealed class MqttSession : IAsyncDisposable
{
    readonly IMqttClient client;
    readonly Receiving receiving;
    readonly TaskCompletionSource<LinkFailure> ended = new(TaskCreationOptions.RunContinuationsAsynchronously);
    readonly MqttOptions options;
    readonly TimeProvider time;

    /// <param name="noMoreConfirmations">Nobody will confirm any more: what has not been by then is left to the broker.</param>
    public MqttSession(
        MqttOptions options, Inlet inlet, Confirmations confirmations, LinkCounters counters, TimeProvider time, CancellationToken noMoreConfirmations)
    {
        (this.options, this.time) = (options, time);
        receiving = new(options, inlet, confirmations, counters, time, ended, noMoreConfirmations);
        client = new MqttClientFactory().CreateMqttClient(new PatientAdapters(receiving.WhenThereIsRoom));
        client.ApplicationMessageReceivedAsync += receiving.Take;
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
            receiving.Begin();
            var connected = await client.ConnectAsync(MqttTerms.ToClientOptions(options), either.Token).ConfigureAwait(false);
            receiving.Heard();
            if (MqttTerms.Failure(connected) is { } refused)
                return refused;
            return filters.Count == 0 ? null : MqttTerms.Failure(
                await client.SubscribeAsync(MqttTerms.ToSubscription(filters, options.Version), either.Token).ConfigureAwait(false));
        }
        // Whatever the library, the socket or the TLS layer throws, there is no connection, and the link tries again.
        catch (Exception e)
        {
            cancel.ThrowIfCancellationRequested();
            var reason = late.IsCancellationRequested ? $"no answer within {options.AnswerWithin.TotalSeconds} s" : MqttTerms.Innermost(e);
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
            receiving.Heard();
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
            return new PublishResult(PublishStatus.Away, late.IsCancellationRequested ? "the broker did not answer in time" : MqttTerms.Innermost(e));
        }
    }

    /// <summary>
    /// Behind a cable that was pulled nobody says that the connection is gone, and the library sends no ping while it is given something to
    /// publish. A broker that answers late but sends messages is there.
    /// </summary>
    void EndIfSilentSince(long asked)
    {
        if (receiving.LastHeard <= asked)
            ended.TrySetResult(new LinkFailure(LinkPhase.Waiting, $"no answer within {options.AnswerWithin.TotalSeconds} s"));
    }

    /// <summary>
    /// Acknowledges the rest of what was confirmed and says good-bye, where there is still somebody to say it to. The
    /// broker keeps the session.
    /// </summary>
    public async ValueTask DisposeAsync()
    {
        ended.TrySetResult(new LinkFailure(LinkPhase.Waiting, "closed"));
        await receiving.Finish().ConfigureAwait(false);
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
        receiving.Dispose();
    }

    static string Describe(MqttClientDisconnectedEventArgs lost) =>
        lost.Exception is { } e ? $"connection lost: {MqttTerms.Innermost(e)}"
            : lost.Reason == MqttClientDisconnectReason.NormalDisconnection ? "connection closed by the broker"
            : MqttTerms.Join($"the broker ended the connection: {lost.Reason}", lost.ReasonString);
}
