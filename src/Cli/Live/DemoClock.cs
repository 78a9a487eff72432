using Farberth.HotAfternoon;

namespace Farberth.Cli.Live;

/// <summary>
/// The demo's time: a multiple of real time, but never far ahead of those who must keep up with it. On a machine that is
/// too slow for the speed asked for, the afternoon takes longer in place of going wrong.
/// </summary>
/// <param name="slowest">How far the slowest of them has come.</param>
sealed class DemoClock(DateTimeOffset start, double speed, Func<DateTimeOffset> slowest) : TimeProvider
{
    /// <summary>Simulated time that may pass before anybody has answered.</summary>
    static readonly TimeSpan Leash = TimeSpan.FromSeconds(5);

    // The system's timers are no finer; asking for less would only keep a processor busy.
    readonly TimeSpan shortestWait = TimeSpan.FromMilliseconds(1) * speed;
    readonly ScaledClock scaled = new(start, speed);
    long latestTicks = start.UtcTicks;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override long GetTimestamp() => GetUtcNow().UtcTicks - start.UtcTicks;

    public override DateTimeOffset GetUtcNow()
    {
        var now = Math.Min(scaled.GetUtcNow().UtcTicks, (slowest() + Leash).UtcTicks);
        // Never backwards, whoever asks at the same time.
        var before = Volatile.Read(ref latestTicks);
        while (now > before)
        {
            var found = Interlocked.CompareExchange(ref latestTicks, now, before);
            if (found == before)
                return new DateTimeOffset(now, TimeSpan.Zero);
            before = found;
        }
        return new DateTimeOffset(before, TimeSpan.Zero);
    }

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
        scaled.CreateTimer(callback, state, AtLeast(dueTime), AtLeast(period));

    TimeSpan AtLeast(TimeSpan wait) => wait > TimeSpan.Zero && wait < shortestWait ? shortestWait : wait;
}
