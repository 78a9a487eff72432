using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Site;
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

    /// <summary>A supply of 112 V and 25 to 30 A at every pedestal from 15 to 19 h: band A ends at 108 V.</summary>
    [Fact]
    public void A_sag_of_every_afternoon_is_foretold_in_the_morning_and_raised_once()
    {
        var weak = TestDock.Site.Docks["B"] with { Source = TestDock.Site.Docks["B"].Source with { NoLoadVolts = 112 } };
        var monitor = new DockMonitor(TestDock.Site, weak);
        var raised = new List<AlarmTransition>();
        DockStep? morning = null;
        for (var now = TestDock.Start.AddHours(-15); now < TestDock.Start.AddDays(5); now += TimeSpan.FromMinutes(1))
        {
            var hour = now.AddHours(-3).Hour; // Halifax in summer
            foreach (var reading in hour is >= 15 and < 19 ? Afternoon : Night)
                monitor.Take(reading with { Time = now }, now);
            var step = monitor.Step(now);
            raised.AddRange(step.Transitions.Where(transition => transition.Alarm.Kind == AlarmKind.SagForecast));
            morning = (hour, now.Minute) == (9, 0) ? step : morning;
        }
        Assert.Equal(AlarmState.Unacknowledged, Assert.Single(raised).Alarm.State);
        var sag = morning!.Picture.Forecast!.Sag;
        Assert.InRange(sag.BelowA, 0.9, 1);
        Assert.InRange(sag.Worst!.Until.AddHours(-3).Hour, 15, 19);
        Assert.Equal(("B3", Leg.L1), (sag.Worst.Pedestal, sag.Worst.Leg));
        Assert.Contains("at pedestal B3 on L1", raised[0].Alarm.Message);
    }

    static Reading[] Night { get; } = [.. TestDock.Site.Docks["B"].Pedestals.Keys.Select(name => TestDock.Reading(name, 112, 112))];

    static Reading[] Afternoon { get; } =
    [
        TestDock.Reading("B1", 109, 112, ("A", Leg.L1, 25)),
        TestDock.Reading("B2", 107, 112.5, ("B", Leg.L1, 30)),
        TestDock.Reading("B3", 106, 112.5, ("A", Leg.L1, 25)),
    ];

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
