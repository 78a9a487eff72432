namespace Farberth.Service.Tests.Loop;

/// <summary>The machine's clock, moved by a test alone. Waits go on as they were.</summary>
sealed class ClockThatStands(DateTimeOffset at) : TimeProvider
{
    long ticks = at.UtcTicks;

    public DateTimeOffset Now { set => Interlocked.Exchange(ref ticks, value.UtcTicks); }

    public override DateTimeOffset GetUtcNow() => new(Interlocked.Read(ref ticks), TimeSpan.Zero);
}
