using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Risk;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>Sag makes motors draw more: an overload says how much of it the missing volts have brought.</summary>
public class SagInTheOverload
{
    /// <summary>
    /// The limits of the response are textbook: a resistance draws amps in proportion to its volts (Ohm), constant power in
    /// inverse proportion (P = V·I).
    /// </summary>
    [Theory]
    [InlineData(1, 1500.0 / 120 * 108 / 120)]
    [InlineData(0, 1500.0 / 120)]
    [InlineData(-1, 1500.0 / 108)]
    public void A_heater_eases_off_and_a_motor_makes_up(double response, double ampsAt108) =>
        Assert.Equal(ampsAt108, SagResponse.AmpsAt(108, 1500.0 / 120, 120, response), 1e-9);

    [Fact]
    public void In_a_sagging_dock_the_alarm_tells_the_part_of_the_sag_and_of_another_volt()
    {
        var dock = new TestDock().Say("B3", 108, 120, ("A", Leg.L1, 26)).Run(TimeSpan.FromSeconds(70));
        var alarm = Assert.Single(dock.Of(AlarmKind.Overload)).Alarm;
        var response = TestDock.Site.Limits.LoadResponse;
        Assert.Equal(26 - 26 * Math.Pow(120.0 / 108, response), (double)alarm.Evidence["sag-amps"]!, 0.005);
        Assert.Equal(26 * Math.Pow(107.0 / 108, response), (double)alarm.Evidence["amps-one-volt-lower"]!, 0.005);
        Assert.Contains("sagged to 108.0 V from 120 V", alarm.Message);
        Assert.Contains("one volt less makes it 26.1 A", alarm.Message);
    }

    [Fact]
    public void At_nominal_volts_the_alarm_does_not_blame_the_sag()
    {
        var dock = new TestDock().Say("B3", 120, 120, ("A", Leg.L1, 26)).Run(TimeSpan.FromSeconds(70));
        Assert.DoesNotContain("sag", Assert.Single(dock.Of(AlarmKind.Overload)).Alarm.Message);
    }

    /// <summary>Common practice: a 30 A dock supply is good for about 24 to 26 A continuously.</summary>
    [Fact]
    public void The_continuous_limit_of_a_30_A_outlet_is_what_the_trade_says() =>
        Assert.InRange(30 * TestDock.Site.Limits.ContinuousShare, 24, 26);
}
