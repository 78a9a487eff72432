using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Alarms;

/// <summary>
/// How often one alarm was raised of late. One that comes again and again says nothing new each time, and takes attention from
/// the others: it then clears so slowly that it cannot be raised more often than it has been. Figures assumed; ISA-18.2 speaks of
/// three times in a minute (from memory), which the delays here rule out already.
/// </summary>
sealed class Chatter
{
    const int Often = 3;
    static readonly TimeSpan Within = TimeSpan.FromHours(1);
    static readonly TimeSpan ShortestClearing = TimeSpan.FromMinutes(20);

    readonly Queue<DateTimeOffset> raised = new();

    public bool IsIdle(DateTimeOffset now) => Count(now) == 0;

    /// <summary>Raised so often within the hour that it chatters; else 0.</summary>
    public int Times(DateTimeOffset now) => Count(now) is >= Often and var count ? count : 0;

    public void Raised(DateTimeOffset now) => raised.Enqueue(now);

    public TimeSpan ClearAfter(AlarmTiming timing, DateTimeOffset now)
    {
        var lengthened = 2 * timing.ClearAfter > ShortestClearing ? 2 * timing.ClearAfter : ShortestClearing;
        return Times(now) > 0 ? lengthened : timing.ClearAfter;
    }

    int Count(DateTimeOffset now)
    {
        while (raised.Count > 0 && now - raised.Peek() > Within)
            raised.Dequeue();
        return raised.Count;
    }

    public IReadOnlyList<DateTimeOffset> Memory() => [.. raised];

    public void Resume(IReadOnlyList<DateTimeOffset> memory)
    {
        foreach (var at in memory)
            raised.Enqueue(at);
    }
}
