using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon.Tests;

public class PlayingTests
{
    static readonly DateTimeOffset Start = new(2027, 7, 17, 15, 0, 0, TimeSpan.Zero);

    [Fact]
    public void A_scaled_clock_runs_faster_than_the_one_inside()
    {
        var inner = new LeapingClock();
        var clock = new ScaledClock(Start, 200, inner);
        Assert.Equal(Start, clock.GetUtcNow());
        inner.Leap(TimeSpan.FromSeconds(3));
        Assert.Equal(Start.AddMinutes(10), clock.GetUtcNow());
        var mark = clock.GetTimestamp();
        inner.Leap(TimeSpan.FromSeconds(0.3));
        Assert.Equal(TimeSpan.FromMinutes(1), clock.GetElapsedTime(mark));
    }

    [Fact]
    public void Its_timers_are_scaled_and_those_that_never_fire_stay_so()
    {
        var inner = new LeapingClock();
        var clock = new ScaledClock(Start, 200, inner);
        using var timer = clock.CreateTimer(_ => { }, null, TimeSpan.FromMinutes(10), TimeSpan.FromMinutes(20));
        Assert.Equal((TimeSpan.FromSeconds(3), TimeSpan.FromSeconds(6)), inner.Asked[^1]);
        timer.Change(Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
        Assert.Equal((Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan), inner.Asked[^1]);
    }

    [Fact]
    public void A_clock_that_stands_still_is_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new ScaledClock(Start, 0));

    [Fact]
    public async Task Messages_go_out_when_their_time_has_come()
    {
        var clock = new ScaledClock(Start, 1000, new LeapingClock());
        var sent = new List<(DateTimeOffset At, string Topic)>();
        var player = new Player(clock, (message, _) =>
        {
            sent.Add((clock.GetUtcNow(), message.Topic));
            return ValueTask.CompletedTask;
        });
        double[] seconds = [-5, 0, 10, 10.004, 3600];
        await player.PlayAsync(
            seconds.Select(s => new RecordedMessage(Start.AddSeconds(s), new WireMessage($"t{s}", default))),
            TestContext.Current.CancellationToken);
        Assert.Equal(seconds.Select(s => $"t{s}"), sent.Select(item => item.Topic));
        // At 1,000 times, the inner clock's millisecond is a second here.
        Assert.All(sent.Zip(seconds), pair => Assert.InRange(
            (pair.First.At - Start).TotalSeconds, Math.Max(0, pair.Second), Math.Max(0, pair.Second) + 1));
    }

    [Fact]
    public async Task Playing_stops_when_told()
    {
        using var stop = new CancellationTokenSource();
        var sent = 0;
        var player = new Player(new ScaledClock(Start, 10, new LeapingClock()), (_, _) =>
        {
            if (++sent == 3)
                stop.Cancel();
            return ValueTask.CompletedTask;
        });
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => player.PlayAsync(
            Enumerable.Range(0, 100).Select(s => new RecordedMessage(Start.AddSeconds(s), new WireMessage("t", default))),
            stop.Token));
        Assert.Equal(3, sent);
    }
}
