namespace Farberth.HotAfternoon.Tests;

/// <summary>A clock for tests that never waits: a timer that is due leaps the clock there and fires at once.</summary>
sealed class LeapingClock : TimeProvider
{
    long ticks;

    public List<(TimeSpan DueTime, TimeSpan Period)> Asked { get; } = [];

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override long GetTimestamp() => ticks;

    public override DateTimeOffset GetUtcNow() => DateTimeOffset.UnixEpoch.AddTicks(ticks);

    public void Leap(TimeSpan span) => ticks += span.Ticks;

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        var timer = new LeapingTimer(this, callback, state);
        timer.Change(dueTime, period);
        return timer;
    }

    sealed class LeapingTimer(LeapingClock clock, TimerCallback callback, object? state) : ITimer
    {
        public bool Change(TimeSpan dueTime, TimeSpan period)
        {
            clock.Asked.Add((dueTime, period));
            if (dueTime == Timeout.InfiniteTimeSpan)
                return true;
            clock.Leap(dueTime);
            ThreadPool.QueueUserWorkItem(_ => callback(state));
            return true;
        }

        public void Dispose()
        {
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}
