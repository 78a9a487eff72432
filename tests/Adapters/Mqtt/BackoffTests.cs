using CsCheck;
using Farberth.Adapters.Mqtt;

namespace Farberth.Adapters.Tests.Mqtt;

public class BackoffTests
{
    static readonly Backoff OneToSixty = new(TimeSpan.FromSeconds(1), TimeSpan.FromSeconds(60));

    [Theory]
    [InlineData(0, 0.5, 1)]
    [InlineData(1, 1, 2)]
    [InlineData(5, 16, 32)]
    [InlineData(6, 30, 60)]
    [InlineData(int.MaxValue, 30, 60)]
    public void Each_wait_is_twice_the_one_before_up_to_the_longest(int failures, double fromSeconds, double toSeconds)
    {
        Assert.Equal(TimeSpan.FromSeconds(fromSeconds), OneToSixty.Delay(failures, 0));
        Assert.Equal(TimeSpan.FromSeconds(toSeconds), OneToSixty.Delay(failures, 1));
    }

    [Fact]
    public void No_wait_is_nothing_or_longer_than_the_longest() =>
        Gen.Select(Gen.Int.NonNegative, Gen.Double[0, 1], Gen.Long[1, TimeSpan.TicksPerHour], Gen.Long[1, TimeSpan.TicksPerHour]).Sample((failures, random, a, b) =>
        {
            var backoff = new Backoff(new TimeSpan(Math.Max(2, Math.Min(a, b))), new TimeSpan(Math.Max(2, Math.Max(a, b))));
            var delay = backoff.Delay(failures, random);
            return delay > TimeSpan.Zero && delay <= backoff.Longest;
        });
}
