using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Tests.Site;

public class RegionDefaultsTests
{
    // ANSI C84.1 range B on a 120 V base spans +6 % and -13 % of nominal, to the whole volt
    // (percentages confirmed in a secondary source, ustpower.com; the table's cells themselves are from memory).
    [Fact]
    public void Band_B_of_North_America_spans_plus_6_and_minus_13_percent()
    {
        var volts = RegionDefaults.Limits(SupplySystem.SplitPhase120).Volts;
        Assert.Equal((Math.Round(120 * 0.87), Math.Round(120 * 1.06)), (volts.LowB, volts.HighB));
        Assert.Equal(volts, RegionDefaults.Limits(SupplySystem.Wye208).Volts);
    }

    // EN 50160: within ±10 % for 95 % of the 10-minute means of a week, all within +10/-15 %
    // (confirmed in secondary sources; IEC 60038 has the same ±10 %).
    [Fact]
    public void Bands_of_Europe_are_10_percent_and_plus_10_minus_15()
    {
        var volts = RegionDefaults.Limits(SupplySystem.Wye400).Volts;
        double[] expected = [230 * 0.90, 230 * 0.85, 230 * 1.10, 230 * 1.10];
        double[] actual = [volts.LowA, volts.LowB, volts.HighA, volts.HighB];
        Assert.All(expected.Zip(actual), pair => Assert.Equal(pair.First, pair.Second, 1e-9));
        Assert.Equal(volts, RegionDefaults.Limits(SupplySystem.SinglePhase230).Volts);
    }

    // Common practice: a 30 A dock supply is good for about 24 to 26 A continuously.
    [Fact]
    public void A_30_amp_outlet_carries_24_amps_for_hours() =>
        Assert.Equal(24, 30 * RegionDefaults.Limits(SupplySystem.SplitPhase120).ContinuousShare, 1e-9);

    [Fact]
    public void Every_kind_of_alarm_has_a_timing() =>
        Assert.Equal(Enum.GetValues<AlarmKind>(), RegionDefaults.AlarmTimings.Keys.Order());

    [Fact]
    public void Bands_of_every_supply_rise_around_its_nominal_volts() => Assert.All(SupplySystem.All, supply =>
    {
        var volts = RegionDefaults.Limits(supply).Volts;
        Assert.True(volts.LowB <= volts.LowA && volts.LowA < supply.NominalVolts);
        Assert.True(supply.NominalVolts < volts.HighA && volts.HighA <= volts.HighB);
    });
}
