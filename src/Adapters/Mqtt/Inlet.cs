using System.Threading.Channels;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Mqtt;

/// <summary>
/// The bounded queue between the connection and whoever takes the messages. It is counted in places: a message takes one for each
/// 4 KiB that it has begun, so that what it holds is bounded in bytes too. A place is reserved before a message is read from the
/// connection, and is free again when the message has been taken.
/// </summary>
sealed class Inlet : ChannelReader<Arrival>
{
    const int PlaceBytes = 4096;

    readonly Channel<Arrival> queue = Channel.CreateUnbounded<Arrival>();
    readonly int capacity, lowWater;
    TaskCompletionSource? emptied;
    int used;
    long numbered;

    /// <param name="capacity">Places, 4 or more.</param>
    public Inlet(int capacity)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(capacity, 4);
        this.capacity = capacity;
        lowWater = capacity / 2;
    }

    public override bool CanCount => true;
    public override int Count => queue.Reader.Count;
    public override Task Completion => queue.Reader.Completion;

    /// <summary>For a payload of so many bytes, as long as it may be.</summary>
    public static int Places(long bytes) => 1 + (int)(Math.Min(bytes, MqttLink.LongestPayload) / PlaceBytes);

    /// <summary>Where a place is free, as many as the message needs: the last may reach beyond the end. For one connection at a time.</summary>
    public bool TryReserve(int places)
    {
        if (Volatile.Read(ref used) >= capacity)
            return false;
        Interlocked.Add(ref used, places);
        return true;
    }

    /// <summary>Gives back what was reserved for a message that does not come.</summary>
    public void Release(int places)
    {
        if (Interlocked.Add(ref used, -places) <= lowWater && Volatile.Read(ref emptied) is not null)
            Interlocked.Exchange(ref emptied, null)?.TrySetResult();
    }

    /// <summary>For one connection at a time, and a message that has its places.</summary>
    /// <returns>The message's number.</returns>
    public long Write(RecordedMessage message)
    {
        queue.Writer.TryWrite(new Arrival(++numbered, message));
        return numbered;
    }

    public void Complete() => queue.Writer.TryComplete();

    public override bool TryRead(out Arrival item)
    {
        if (!queue.Reader.TryRead(out item))
            return false;
        Release(Places(item.Recorded.Message.Payload.Length));
        return true;
    }

    public override ValueTask<bool> WaitToReadAsync(CancellationToken cancellationToken = default) =>
        queue.Reader.WaitToReadAsync(cancellationToken);

    /// <summary>Done when no more than half is in use.</summary>
    public async Task HalfEmptied(CancellationToken cancel)
    {
        while (Volatile.Read(ref used) > lowWater)
        {
            var mine = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
            var waited = Interlocked.CompareExchange(ref emptied, mine, null) ?? mine;
            // The reader may have passed the mark between the check above and the exchange.
            if (Volatile.Read(ref used) <= lowWater)
                return;
            await waited.Task.WaitAsync(cancel).ConfigureAwait(false);
        }
    }
}
