namespace Farberth.Adapters.Tests.Stores.InfluxDb;

/// <summary>A clock for tests that never waits: whoever waits goes on at once, the clock is then that much later, and the wait is written down.</summary>
sealed class HurriedClock : TimeProvider
{
    public static readonly DateTimeOffset Began = new(2027, 7, 17, 15, 0, 0, TimeSpan.Zero);

    readonly Lock gate = new();
    readonly List<TimeSpan> waits = [];
    long ticks = Began.UtcTicks;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public IReadOnlyList<TimeSpan> Waits
    {
        get
        {
            lock (gate)
                return [.. waits];
        }
    }

    public override long GetTimestamp() => Volatile.Read(ref ticks);

    public override DateTimeOffset GetUtcNow() => new(GetTimestamp(), TimeSpan.Zero);

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        if (dueTime != Timeout.InfiniteTimeSpan)
        {
            lock (gate)
                waits.Add(dueTime);
            Interlocked.Add(ref ticks, dueTime.Ticks);
            ThreadPool.QueueUserWorkItem(_ => callback(state));
        }
        return new Fired();
    }

    sealed class Fired : ITimer
    {
        public bool Change(TimeSpan dueTime, TimeSpan period) => true;

        public void Dispose()
        {
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}
