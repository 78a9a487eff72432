using CsCheck;
using Farberth.Monitoring.Forecast;

namespace Farberth.Monitoring.Tests.Forecast;

/// <summary>By hand from the definitions: Koenker and Bassett 1978 and Gneiting and Raftery 2007 for the loss, Hyndman and Fan 1996 for the sample.</summary>
public class QuantileArithmetic
{
    /// <summary>ρ_τ(y − q) = (y − q)·(τ − 1{y &lt; q}): 0.9·2, 0.1·2, and half the distance for the median.</summary>
    [Theory]
    [InlineData(0.9, 8, 10, 1.8)]
    [InlineData(0.9, 8, 6, 0.2)]
    [InlineData(0.5, 8, 5, 1.5)]
    [InlineData(0.05, 8, 8, 0)]
    public void Pinball_loss_by_hand(double level, double quantile, double outcome, double expected) =>
        Assert.Equal(expected, Quantiles.PinballLoss(level, quantile, outcome), 1e-12);

    /// <summary>Koenker and Bassett: the quantile of a sample minimises its mean loss. 1 to 9, τ = 0.25: any from 2 to 3 on the ninth-steps, so 3.</summary>
    [Fact]
    public void No_other_value_of_a_sample_has_less_loss_than_its_quantile() => (
        from values in Gen.Double[0, 100].Array[3, 40]
        from level in Gen.Double[0.05, 0.95]
        select (values, level)).Sample(one =>
    {
        double Loss(double q) => one.values.Average(y => Quantiles.PinballLoss(one.level, q, y));
        var sorted = one.values.Order().ToArray();
        var best = sorted[(int)Math.Floor(one.level * sorted.Length)];
        return sorted.All(other => Loss(other) >= Loss(best) - 1e-9);
    });

    /// <summary>Hazen's definition, type 5 of Hyndman and Fan: of 1 to 5, value i stands at (i − ½)/5, so 25 % is 1.75 and 90 % is 5.</summary>
    [Theory]
    [InlineData(0.25, 1.75)]
    [InlineData(0.5, 3)]
    [InlineData(0.05, 1)]
    [InlineData(0.9, 5)]
    public void A_sample_of_equal_weights_has_Hazens_quantiles(double level, double expected)
    {
        var sample = new WeightedSample();
        foreach (var value in new double[] { 4, 1, 5, 3, 2 })
            sample.Add(value, 0.7);
        Assert.Equal(expected, sample.Quantile(level), 1e-12);
    }

    /// <summary>Weights 1, 2, 1: the values stand at 1/8, 1/2 and 7/8.</summary>
    [Fact]
    public void A_heavy_value_takes_more_of_the_levels()
    {
        var sample = new WeightedSample();
        sample.Add(10, 1);
        sample.Add(20, 2);
        sample.Add(40, 1);
        Assert.Equal([10.0, 20, 30, 40], new[] { 0.125, 0.5, 0.6875, 0.875 }.Select(sample.Quantile));
        Assert.Equal(0.75, sample.ShareBelow(40));
    }

    [Fact]
    public void What_is_not_known_yet_is_filled_up_wide_and_what_is_known_stays()
    {
        var (nothing, enough) = (new WeightedSample(), new WeightedSample());
        nothing.FillUp(12, 50, 10);
        Assert.Equal(50, nothing.Quantile(0.5), 1e-9);
        Assert.InRange(nothing.Quantile(0.95) - nothing.Quantile(0.05), 30, 40); // a normal 90 % band: 2 · 1.645 · 10
        enough.Add(1, 12);
        enough.FillUp(12, 50, 10);
        Assert.Equal(1, enough.Quantile(0.95));
    }

    [Fact]
    public void Between_two_levels_lies_a_straight_line_and_beyond_the_last_nothing_is_known()
    {
        var quantiles = new Quantiles([5, 10, 25, 50, 75, 90, 95]);
        Assert.Equal([5, 5, 7.5, 50, 60, 95], new[] { 0.01, 0.05, 0.075, 0.5, 0.6, 0.999 }.Select(quantiles.At), (a, b) => Math.Abs(a - b) < 1e-9);
        Assert.Equal(50, quantiles.Median);
    }
}
