namespace Farberth.HotAfternoon;

/// <summary>A clock that starts at a moment of one's choice and runs faster than the real one, timers too.</summary>
/// <remarks>t = t₀ + k·(τ − τ₀), τ the inner clock's steady time; a timer of d runs d/k on the inner clock, rounded
/// up to its millisecond, so that it is never early.</remarks>
public sealed class ScaledClock : TimeProvider
{
    readonly DateTimeOffset start;
    readonly double speed;
    readonly TimeProvider inner;
    readonly long innerStart;

    /// <param name="start">What it shows now.</param>
    /// <param name="speed">Its seconds in one second of the inner clock; more than 0.</param>
    public ScaledClock(DateTimeOffset start, double speed, TimeProvider? inner = null)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(speed);
        this.start = start.ToUniversalTime();
        this.speed = speed;
        this.inner = inner ?? System;
        innerStart = this.inner.GetTimestamp();
    }

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override TimeZoneInfo LocalTimeZone => inner.LocalTimeZone;

    public override long GetTimestamp() => (long)(inner.GetElapsedTime(innerStart).Ticks * speed);

    public override DateTimeOffset GetUtcNow() => start.AddTicks(GetTimestamp());

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
        new ScaledTimer(inner.CreateTimer(callback, state, Inner(dueTime), Inner(period)), Inner);

    TimeSpan Inner(TimeSpan span) => span <= TimeSpan.Zero
        ? span
        : TimeSpan.FromMilliseconds(Math.Ceiling(span.TotalMilliseconds / speed));

    sealed class ScaledTimer(ITimer timer, Func<TimeSpan, TimeSpan> inner) : ITimer
    {
        public bool Change(TimeSpan dueTime, TimeSpan period) => timer.Change(inner(dueTime), inner(period));

        public void Dispose() => timer.Dispose();

        public ValueTask DisposeAsync() => timer.DisposeAsync();
    }
}
