namespace Farberth.HotAfternoon.Tests.Advice;

/// <summary>The oracle itself, on programs that are solved by hand.</summary>
public class LeastAmpsTests
{
    /// <summary>0.2 x1 + 0.1 x2 ≥ 1 with x1 ≤ 4: x1 = 4 brings 0.8, the other 0.2 take 2 of x2.</summary>
    [Fact]
    public void The_stronger_lever_first_then_the_weaker() =>
        Assert.Equal(6, LeastAmps.Of([[0.2, 0.1]], [1], [4, 10])!.Value, 1e-9);

    /// <summary>Two limits: x1 + x2 ≥ 4 and x1 + 3 x2 ≥ 6 meet at x1 = 3, x2 = 1.</summary>
    [Fact]
    public void Two_limits_meet_in_a_corner() =>
        Assert.Equal([3, 1], LeastAmps.Solve([[1, 1], [1, 3]], [4, 6], [10, 10])!.Value.Amps.Select(amps => Math.Round(amps, 9)));

    /// <summary>With at least 2 A each, that corner is not allowed: x1 = 2, x2 = 2 costs the same 4.</summary>
    [Fact]
    public void A_least_request_moves_it() => Assert.Equal(4, LeastAmps.Plan([[1, 1], [1, 3]], [4, 6], [10, 10], 2)!.Sum(), 1e-9);

    [Fact]
    public void Too_little_is_said() => Assert.Null(LeastAmps.Of([[0.2, 0.1]], [2], [4, 10]));
}
