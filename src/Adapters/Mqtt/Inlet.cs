using System.Threading.Channels;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Mqtt;

/// <summary>
/// The bounded queue between the connection and whoever takes the messages. It numbers them, knows when it is nearly
/// full, and tells when it has been emptied to half.
/// </summary>
sealed class Inlet : ChannelReader<Arrival>
{
    readonly Channel<Arrival> queue;
    readonly int highWater;
    readonly int lowWater;
    TaskCompletionSource? emptied;
    long numbered;

    /// <param name="capacity">Messages, 4 or more.</param>
    public Inlet(int capacity)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(capacity, 4);
        queue = Channel.CreateBounded<Arrival>(capacity);
        highWater = capacity * 3 / 4;
        lowWater = capacity / 2;
    }

    public override bool CanCount => true;
    public override int Count => queue.Reader.Count;
    public override Task Completion => queue.Reader.Completion;
    public bool IsNearlyFull => Count > highWater;

    /// <summary>For one connection at a time.</summary>
    /// <param name="number">The message's, where there was room for it.</param>
    public bool TryWrite(RecordedMessage message, out long number)
    {
        number = numbered + 1;
        if (!queue.Writer.TryWrite(new Arrival(number, message)))
            return false;
        numbered = number;
        return true;
    }

    public void Complete() => queue.Writer.TryComplete();

    public override bool TryRead(out Arrival item)
    {
        var read = queue.Reader.TryRead(out item);
        if (Volatile.Read(ref emptied) is not null && Count <= lowWater)
            Interlocked.Exchange(ref emptied, null)?.TrySetResult();
        return read;
    }

    public override ValueTask<bool> WaitToReadAsync(CancellationToken cancellationToken = default) =>
        queue.Reader.WaitToReadAsync(cancellationToken);

    /// <summary>Done when no more than half is left.</summary>
    public async Task HalfEmptied(CancellationToken cancel)
    {
        while (Count > lowWater)
        {
            var mine = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
            var waited = Interlocked.CompareExchange(ref emptied, mine, null) ?? mine;
            // The reader may have passed the mark between the check above and the exchange.
            if (Count <= lowWater)
                return;
            await waited.Task.WaitAsync(cancel).ConfigureAwait(false);
        }
    }
}
