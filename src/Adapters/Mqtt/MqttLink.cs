using System.Threading.Channels;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Mqtt;

/// <summary>
/// A lasting link to a broker: connects, subscribes, comes back by itself, and is the only way the rest of the program
/// meets MQTT.
///
/// Messages at QoS 1 are acknowledged once whoever reads <see cref="Messages"/> has confirmed them; with a session that
/// the broker keeps, none is lost while the link or its reader is away, and some come twice. The queue is bounded: while it
/// is full nothing is read from the socket, and if that lasts the link lets go of the broker, which keeps the rest, and comes
/// back when the queue is half empty.
/// </summary>
public sealed class MqttLink : IAsyncDisposable
{
    /// <summary>
    /// A longer payload is cut to this many bytes: one more than a message may have, so that the decoder sees that it is
    /// too large and nobody has to hold the whole.
    /// </summary>
    public const int LongestPayload = InboundDecoder.LargestPayload + 1;

    // Unanswered publishes at a time: below the receive maximum that brokers set by default.
    const int PublishWindow = 16;

    readonly MqttOptions options;
    readonly IReadOnlyList<string> filters;
    readonly TimeProvider time;
    readonly Func<double> unitRandom;
    readonly Inlet inlet;
    readonly Confirmations confirmations = new();
    readonly LinkCounters counters = new();
    readonly SemaphoreSlim publishWindow = new(PublishWindow);
    readonly CancellationTokenSource closing = new();
    readonly Task running;
    volatile MqttSession? session;

    MqttLink(MqttOptions options, IReadOnlyList<string> filters, TimeProvider time, Func<double> unitRandom)
    {
        (this.options, this.filters, this.time, this.unitRandom) = (options, filters, time, unitRandom);
        inlet = new Inlet(options.Capacity);
        running = Task.Run(Run);
    }

    /// <summary>Starts to connect and returns at once; <see cref="State"/> tells how it goes.</summary>
    /// <param name="filters">Topic filters to subscribe to at QoS 1; may be empty.</param>
    /// <param name="unitRandom">0 to 1, for the jitter of the waits.</param>
    public static MqttLink Start(
        MqttOptions options, IReadOnlyList<string> filters, TimeProvider? time = null, Func<double>? unitRandom = null) =>
        new(options, filters, time ?? TimeProvider.System, unitRandom ?? Random.Shared.NextDouble);

    /// <summary>Everything that arrives, in order; ends when the link is disposed of. For one reader, which must confirm.</summary>
    public ChannelReader<Arrival> Messages => inlet;

    /// <summary>
    /// This message and all before it are where they will not be lost: the broker may forget them. What is not confirmed
    /// is not acknowledged, and after a while the broker sends nothing more.
    /// </summary>
    public void Confirm(long number) => confirmations.Confirm(number);

    public Observed<LinkState> State { get; } = new(new LinkState(LinkPhase.Connecting));

    public LinkCounts Counts => counters.Read();

    /// <summary>
    /// Publishes at QoS 1 and waits for the broker's answer. MQTT 3.1.1 has no way to say no, so there a message that the
    /// broker's access rules discard counts as accepted.
    /// </summary>
    /// <exception cref="OperationCanceledException">Cancelled; the message may still go out.</exception>
    public async ValueTask<PublishResult> Publish(WireMessage message, CancellationToken cancel)
    {
        await publishWindow.WaitAsync(cancel).ConfigureAwait(false);
        try
        {
            var result = session is { } open
                ? await open.Publish(message, cancel).ConfigureAwait(false)
                : new PublishResult(PublishStatus.Away, "not connected");
            counters.Published(result.IsAccepted);
            return result;
        }
        finally
        {
            publishWindow.Release();
        }
    }

    public async ValueTask DisposeAsync()
    {
        await closing.CancelAsync().ConfigureAwait(false);
        await running.ConfigureAwait(false);
        inlet.Complete();
        State.Set(new LinkState(LinkPhase.Closed));
    }

    async Task Run()
    {
        var (failures, delay) = (0, TimeSpan.Zero);
        try
        {
            while (true)
            {
                State.Set(new LinkState(LinkPhase.Connecting));
                var (began, before) = (time.GetTimestamp(), Counts.Connections);
                var failure = await RunSession().ConfigureAwait(false);
                // A connection that held for longer than it was waited for was a good one: begin again with short waits.
                if (failure.IsOverrun || (Counts.Connections > before && time.GetElapsedTime(began) > delay))
                    failures = 0;
                delay = failure.IsOverrun ? TimeSpan.Zero : options.Backoff.Delay(failures++, unitRandom());
                await Wait(failure, delay).ConfigureAwait(false);
            }
        }
        catch (OperationCanceledException) when (closing.IsCancellationRequested)
        {
            // Disposed of: the end of the loop.
        }
    }

    /// <summary>One connection from its opening to its end; why it ended.</summary>
    async Task<LinkFailure> RunSession()
    {
        await using var opened = new MqttSession(options, inlet, confirmations, counters, time, closing.Token);
        if (await opened.Open(filters, closing.Token).ConfigureAwait(false) is { } failure)
            return failure;
        counters.Connected();
        session = opened;
        State.Set(new LinkState(LinkPhase.Connected));
        try
        {
            return await opened.Ended.WaitAsync(closing.Token).ConfigureAwait(false);
        }
        finally
        {
            session = null;
        }
    }

    async Task Wait(LinkFailure failure, TimeSpan delay)
    {
        State.Set(new LinkState(failure.Phase, failure.Reason, time.GetUtcNow() + delay));
        await Task.Delay(delay, time, closing.Token).ConfigureAwait(false);
        await inlet.HalfEmptied(closing.Token).ConfigureAwait(false);
    }
}
