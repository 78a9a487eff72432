using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>On B3.A, 30 A: a compressor of 9 A. Locked, it takes 7.07 times that at nominal volts and 3.9 times at 0.55 (WECC motor D, confirmed).</summary>
public class StalledMotorTests
{
    readonly TestDock dock = new();

    public StalledMotorTests() => Draw(9, 112, 0.95, seconds: 120);

    /// <summary>0.84 of nominal: 7.07·0.84 = 5.9 times the running amps, 53 A.</summary>
    [Fact]
    public void Locked_rotor_amps_in_two_readings_at_low_volts_are_a_stall()
    {
        Draw(53, 101, 0.7, seconds: 10);
        Assert.Empty(dock.Of(AlarmKind.StalledMotor));
        Draw(53, 101, 0.7, seconds: 1);
        var raised = Assert.Single(dock.Of(AlarmKind.StalledMotor)).Alarm;
        Assert.Equal(("B.B3.A.stalled-motor", "S3"), (raised.Id, raised.Place.Slip));
        Assert.Equal(9, (double)raised.Evidence["running-amps"]!, 1e-9);
    }

    [Fact]
    public void A_start_that_falls_into_one_reading_is_none()
    {
        Draw(53, 101, 0.7, seconds: 10);
        Draw(9, 107, 0.95, seconds: 300);
        Assert.Empty(dock.Of(AlarmKind.StalledMotor));
    }

    /// <summary>3.3 times the running amps, but less than 1.5 times the rating: the power factor tells a motor from a heater.</summary>
    [Theory]
    [InlineData(0.7, 1)]
    [InlineData(1.0, 0)]
    [InlineData(null, 0)]
    public void Below_the_rating_the_power_factor_decides(double? powerFactor, int raised)
    {
        Draw(30, 100, powerFactor, seconds: 30);
        Assert.Equal(raised, dock.Of(AlarmKind.StalledMotor).Count());
    }

    [Theory]
    [InlineData(0.7, 1)]
    [InlineData(1.0, 0)]
    [InlineData(null, 1)]
    public void Far_above_the_rating_only_a_heater_is_none(double? powerFactor, int raised)
    {
        Draw(46, 100, powerFactor, seconds: 30);
        Assert.Equal(raised, dock.Of(AlarmKind.StalledMotor).Count());
    }

    [Fact]
    public void At_good_volts_it_is_not_this_alarm()
    {
        Draw(53, 109, 0.7, seconds: 60);
        Assert.Empty(dock.Of(AlarmKind.StalledMotor));
    }

    [Fact]
    public void A_protector_that_tries_again_and_again_is_seen_between_the_readings()
    {
        for (var attempt = 1; attempt <= 3; attempt++)
        {
            Assert.Empty(dock.Of(AlarmKind.StalledMotor));
            Draw(53, 101, 0.7, seconds: 10);
            Draw(0, 107, null, seconds: 120);
        }
        Assert.Single(dock.Of(AlarmKind.StalledMotor));
    }

    void Draw(double amps, double volts, double? powerFactor, int seconds)
    {
        var reading = TestDock.Reading("B3", volts, 120, ("A", Leg.L1, amps));
        var watts = powerFactor is { } cosine ? PerLeg.None.With(Leg.L1, amps * volts * cosine) : PerLeg.None;
        dock.Says["B3"] = reading with
        {
            Outlets = reading.Outlets.ToDictionary(pair => pair.Key, pair => pair.Key == "A" ? pair.Value with { Watts = watts } : pair.Value),
        };
        dock.Run(TimeSpan.FromSeconds(seconds));
    }
}
