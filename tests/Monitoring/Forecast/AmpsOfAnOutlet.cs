using Farberth.Grid.Network;
using Farberth.Monitoring.Forecast;

namespace Farberth.Monitoring.Tests.Forecast;

/// <summary>What others ask of an outlet's forecast: amps at minutes ahead, as a quantile.</summary>
public class AmpsOfAnOutlet
{
    static readonly Quantiles Band = new([0, 1, 2, 3, 4, 5, 6]);

    /// <summary>The first quarter-hour has its middle at 7.5 min, the second at 22.5, the one that ends after 2 h at 112.5.</summary>
    [Theory]
    [InlineData(0, 0.5, 13)]
    [InlineData(7.5, 0.5, 13)]
    [InlineData(15, 0.5, 18)]
    [InlineData(22.5, 0.95, 26)]
    [InlineData(82.5, 0.5, 48)]
    [InlineData(9999, 0.05, 260)]
    public void Minutes_lie_between_the_middles_of_the_quarter_hours(double minutes, double quantile, double expected)
    {
        IReadOnlyList<Quantiles> horizons = [.. OutletForecast.MinutesAhead.Select((_, at) => Band.Each(amps => amps + 10 * (at == 26 ? 26 : at + 1)))];
        var forecast = new OutletForecast(new Dictionary<Leg, IReadOnlyList<Quantiles>> { [Leg.L1] = horizons });
        Assert.Equal(expected, forecast.AmpsAt(minutes, quantile), 1e-9);
    }

    [Fact]
    public void The_leg_that_will_carry_most_counts()
    {
        IReadOnlyList<Quantiles> Constant(double amps) => [.. OutletForecast.MinutesAhead.Select(_ => Band.Each(_ => amps))];
        var forecast = new OutletForecast(new Dictionary<Leg, IReadOnlyList<Quantiles>> { [Leg.L1] = Constant(4), [Leg.L2] = Constant(9) });
        Assert.Equal(9, forecast.AmpsAt(60, 0.5));
    }
}
