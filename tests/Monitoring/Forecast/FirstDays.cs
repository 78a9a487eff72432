using Farberth.Grid.Network;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Wire;

namespace Farberth.Monitoring.Tests.Forecast;

/// <summary>The forecaster on a small dock that always draws the same, minute by minute.</summary>
public class FirstDays
{
    [Fact]
    public void Nothing_is_said_before_a_quarter_hour_has_ended()
    {
        var dock = new TestDock().Say("B3", 116, 120, ("A", Leg.L1, 20));
        Assert.Null(dock.Run(TimeSpan.FromMinutes(14)).Last.Picture.Forecast);
        var forecast = dock.Run(TimeSpan.FromMinutes(2)).Last.Picture.Forecast!;
        Assert.Equal(TestDock.Start.AddMinutes(15), forecast.Time);
        Assert.Equal([15, 30, 45, 60, 120], forecast.Hours.Take(5).Select(hour => hour.MinutesAhead));
        Assert.Equal(24 * 60, forecast.Hours[^1].MinutesAhead);
    }

    /// <summary>Ohm's law by the site file: 20 A at B3 drop some volts behind 122 V; of 20 A it is now, as much is expected, with a wide band.</summary>
    [Fact]
    public void On_the_first_day_it_says_as_now_with_a_wide_band_and_that_it_has_learned_nothing()
    {
        var forecast = new TestDock().Say("B3", 116, 120, ("A", Leg.L1, 20)).Run(TimeSpan.FromMinutes(16)).Last.Picture.Forecast!;
        Assert.Equal(0, forecast.LearnedShare);
        var (amps, outlet) = (forecast.Hours[10].Amps[Leg.L1], forecast.Outlets[new("B3", "A")]);
        Assert.InRange(amps.Median, 19, 21);
        Assert.True(amps.At(0.95) - amps.At(0.05) > 20);
        Assert.InRange(outlet.AmpsAt(60, 0.5), 19, 21);
        Assert.Equal(("B3", Leg.L1), (forecast.Hours[0].Pedestal, forecast.Hours[0].Leg));
    }

    [Fact]
    public void After_some_days_of_the_same_the_band_is_narrow()
    {
        var forecast = Days(6);
        Assert.Equal(1, forecast.LearnedShare);
        var hour = forecast.Hours[10];
        Assert.InRange(hour.Amps[Leg.L1].At(0.05), 19, 21);
        Assert.InRange(hour.Amps[Leg.L1].At(0.95), 19, 21);
        Assert.InRange(hour.Volts.At(0.95) - hour.Volts.At(0.05), 0, 0.5);
        Assert.InRange(forecast.Outlets[new("B3", "A")].AmpsAt(300, 0.95), 19, 21);
        Assert.Equal(0, forecast.Sag.BelowA);
    }

    [Fact]
    public void The_same_past_gives_the_same_bytes() => Assert.Equal(
        DockForecastJson.Of(Days(2), "B", TestDock.Site.Limits.Volts), DockForecastJson.Of(Days(2), "B", TestDock.Site.Limits.Volts));

    static DockForecast Days(int days)
    {
        var dock = new TestDock();
        dock.Say("B3", 116, 120, ("A", Leg.L1, 20));
        DockForecast? latest = null;
        for (var now = TestDock.Start; now < TestDock.Start.AddDays(days); now += TimeSpan.FromMinutes(1))
        {
            foreach (var reading in dock.Says.Values)
                dock.Monitor.Take(reading with { Time = now }, now);
            dock.Monitor.Take(new Weather(now, 28, null, [new(now.AddHours(1), 28)]), now);
            latest = dock.Monitor.Step(now).Picture.Forecast;
        }
        return latest!;
    }
}
