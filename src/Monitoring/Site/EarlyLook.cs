namespace Farberth.Monitoring.Site;

/// <summary>
/// When a dock is looked at between two ticks: at a reading that should not wait for the next (<see cref="PedestalInbox"/> says which), and when a raise
/// delay ends that began at such a look. All else of a dock takes its second.
/// </summary>
sealed class EarlyLook
{
    /// <summary>So far apart at least, however many readings ask for it.</summary>
    static readonly TimeSpan Apart = TimeSpan.FromMilliseconds(100);

    DateTimeOffset last;

    /// <summary>Null: at no time before the next tick.</summary>
    public DateTimeOffset? At { get; private set; }

    public void Want(DateTimeOffset at)
    {
        var soonest = at > last + Apart ? at : last + Apart;
        At = At < soonest ? At : soonest;
    }

    /// <param name="nextRaise">End of the first raise delay that runs; null: none does. Asked for after an early look only.</param>
    public void Looked(DateTimeOffset now, Func<DateTimeOffset?> nextRaise)
    {
        last = now;
        if (At <= now)
            At = nextRaise();
    }

    public EarlyLookMemory Memory() => new(last, At);

    public void Resume(EarlyLookMemory memory) => (last, At) = (memory.Last, memory.At);
}

sealed record EarlyLookMemory(DateTimeOffset Last, DateTimeOffset? At);
