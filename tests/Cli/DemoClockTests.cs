using Farberth.Cli.Live;

namespace Farberth.Cli.Tests;

public class DemoClockTests
{
    static readonly DateTimeOffset Start = new(2027, 7, 17, 15, 0, 0, TimeSpan.Zero);

    [Fact]
    public void It_never_runs_further_ahead_of_the_slowest_than_its_leash()
    {
        var slowest = Start;
        var clock = new DemoClock(Start, 1e9, () => slowest);
        // At this speed any real time at all is more than the leash.
        Assert.True(SpinWait.SpinUntil(() => clock.GetUtcNow() == Start.AddSeconds(5), TimeSpan.FromSeconds(10)));

        slowest = Start.AddSeconds(20);
        Assert.True(SpinWait.SpinUntil(() => clock.GetUtcNow() == Start.AddSeconds(25), TimeSpan.FromSeconds(10)));
    }

    [Fact]
    public void It_never_runs_backwards_when_the_slowest_does()
    {
        var slowest = Start.AddHours(1);
        var clock = new DemoClock(Start, 1e9, () => slowest);
        Assert.True(SpinWait.SpinUntil(() => clock.GetUtcNow() == slowest.AddSeconds(5), TimeSpan.FromSeconds(10)));

        slowest = Start;
        Assert.Equal(Start.AddHours(1).AddSeconds(5), clock.GetUtcNow());
    }
}
