namespace Farberth.Service.Tests.Loop;

/// <summary>The machine's clock, set wrong by as much as a test says. Waits go on as they were: they do not follow a clock that is set.</summary>
sealed class ClockThatJumps : TimeProvider
{
    long wrongByTicks;

    public TimeSpan WrongBy { set => Interlocked.Exchange(ref wrongByTicks, value.Ticks); }

    public override DateTimeOffset GetUtcNow() => System.GetUtcNow().AddTicks(Interlocked.Read(ref wrongByTicks));
}
