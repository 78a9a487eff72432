using CsCheck;
using Farberth.Grid.Protection;

namespace Farberth.Grid.Tests.Protection;

/// <summary>One breaker's heat by what flows, and what it teaches of its place in the band.</summary>
public class BreakerHeatTests
{
    const int Count = 24;
    static readonly BreakerPoints Points = new(new TripBand(BreakerFamily.Ul489, 30), Count);
    static readonly double[] FiveMinutes = Points.Decays(300);

    [Fact]
    public void A_steady_current_in_many_steps_heats_as_in_one() =>
        Gen.Select(Gen.Double[0, 4], Gen.Double[0, 4], Gen.Double[0.5, 60].Array[1, 20]).Sample((from, x, seconds) =>
        {
            var (once, often) = (new BreakerHeat(Points, from), new BreakerHeat(Points, from));
            once.Follow(x, Points.Decays(seconds.Sum()));
            foreach (var part in seconds)
                often.Follow(x, Points.Decays(part));
            for (var at = 0; at < Count; at++)
                Assert.Equal(once.Heat[at], often.Heat[at], 1e-9);
        });

    // t = τ·ln(i²/(i² − h²)) from cold: the textbook's exponential rise.
    [Fact]
    public void From_cold_each_point_is_at_its_limit_after_the_time_of_the_formula() =>
        Gen.Select(Gen.Double[1.3, 4], Gen.Int[0, Count - 1]).Sample((i, at) =>
        {
            var heat = new BreakerHeat(Points, 0);
            heat.Follow(i * i, Points.Decays(TripBand.Seconds(i, Points.Holds[at], Points.TimeConstantsSeconds[at])));
            Assert.Equal(Points.Holds[at] * Points.Holds[at], heat.Heat[at], 1e-9);
        });

    [Fact]
    public void Below_all_that_the_band_can_hold_nothing_opens() =>
        Assert.True(Held(0.85, 0.8).Within60Minutes < 0.001);

    // UL 489: a sound breaker has opened after an hour of 135 % at 25 °C, which is 1.35/1.087 of the rating's heat in 40 °C.
    [Fact]
    public void Above_all_that_the_band_can_hold_everything_opens()
    {
        var chance = Held(1.35, 0.8);
        Assert.True(chance.Within60Minutes > 0.99);
        Assert.InRange(chance.Opens!.Value.EarliestMinutes, 0, chance.Opens!.Value.LatestMinutes);
        Assert.True(chance.Opens!.Value.LatestMinutes < 20);
    }

    [Fact]
    public void More_current_is_never_a_smaller_chance_and_a_longer_time_neither() =>
        Gen.Select(Gen.Double[0.7, 1.5], Gen.Double[0, 0.3], Gen.Double[0, 1]).Sample((i, more, warm) =>
        {
            var (less, than) = (Held(i, warm), Held(i + more, warm));
            Assert.True(less.Within60Minutes <= than.Within60Minutes + 1e-9 && less.Within15Minutes <= than.Within15Minutes + 1e-9);
            Assert.True(less.Within15Minutes <= less.Within60Minutes + 1e-9);
        });

    [Fact]
    public void An_overload_survived_leaves_only_the_stronger_breakers()
    {
        var heat = new BreakerHeat(Points, 0.8);
        var before = Chance(heat, 1.12).Within60Minutes;
        heat.Follow(1.10 * 1.10, Points.Decays(7200));
        heat.Survive(0);
        Assert.True(Chance(heat, 1.10).Within60Minutes < 0.01);
        Assert.True(Chance(heat, 1.12).Within60Minutes < before / 2);
        Assert.True(MeanHolds(heat) > 1.15);
    }

    [Fact]
    public void A_trip_leaves_those_whose_heat_had_just_come_near()
    {
        var heat = new BreakerHeat(Points, 0.8);
        heat.Follow(1.06 * 1.06, Points.Decays(7200));
        heat.Survive(0);
        heat.Follow(1.10 * 1.10, Points.Decays(7200));
        Assert.True(heat.Open(0.003));
        Assert.InRange(MeanHolds(heat), 1.06, 1.12);
        heat.Follow(0, Points.Decays(7200));
        Assert.True(Chance(heat, 1.14).Within60Minutes > 0.95);
        Assert.True(Chance(heat, 1.03).Within60Minutes < 0.1);
    }

    [Fact]
    public void Switched_off_while_cold_it_teaches_nothing()
    {
        var heat = new BreakerHeat(Points, 0.5);
        Assert.False(heat.Open(0.003));
        Assert.Equal(Chance(new BreakerHeat(Points, 0.5), 1.1), Chance(heat, 1.1));
    }

    [Fact]
    public void What_no_sound_breaker_holds_leaves_numbers_that_are_numbers()
    {
        var heat = new BreakerHeat(Points, 0);
        heat.Follow(1e6, Points.Decays(7200));
        heat.Survive(0);
        Assert.Equal(1, heat.Weights.Sum(), 1e-9);
        Assert.InRange(Chance(heat, 1000).Within60Minutes, 0, 1);
        Assert.True(heat.Open(0.003));
        Assert.InRange(Chance(heat, 1.1).Within60Minutes, 0, 1);
    }

    [Fact]
    public void What_has_just_run_hot_opens_sooner() =>
        Assert.True(Held(1.3, 0.95).Opens!.Value.EarliestMinutes < Held(1.3, 0.2).Opens!.Value.EarliestMinutes);

    static TripChance Held(double i, double warm) => Chance(new BreakerHeat(Points, warm), i);

    static TripChance Chance(BreakerHeat heat, double i)
    {
        Span<double> ahead = stackalloc double[12];
        ahead.Fill(i * i);
        return heat.Chance(ahead, FiveMinutes);
    }

    static double MeanHolds(BreakerHeat heat) => heat.Weights.Select((weight, at) => weight * Points.Holds[at]).Sum();
}
