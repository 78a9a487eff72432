using Farberth.Grid.Conductors;

namespace Farberth.Grid.Tests.Conductors;

public class AmpacityTests
{
    // NEC table 310.15(B)(1)(1), 2020, at the upper edge of each band; wiresizes.com. The last two rows are from
    // memory: they agree, but are no proof.
    [Theory]
    [InlineData(10, 1.29, 1.20, 1.15)]
    [InlineData(15, 1.22, 1.15, 1.12)]
    [InlineData(20, 1.15, 1.11, 1.08)]
    [InlineData(25, 1.08, 1.05, 1.04)]
    [InlineData(30, 1, 1, 1)]
    [InlineData(35, 0.91, 0.94, 0.96)]
    [InlineData(40, 0.82, 0.88, 0.91)]
    [InlineData(45, 0.71, 0.82, 0.87)]
    [InlineData(50, 0.58, 0.75, 0.82)]
    [InlineData(55, 0.41, 0.67, 0.76)]
    [InlineData(60, 0, 0.58, 0.71)]
    [InlineData(65, 0, 0.47, 0.65)]
    [InlineData(70, 0, 0.33, 0.58)]
    public void Ambient_correction_gives_the_printed_bands(double celsius, double at60, double at75, double at90)
    {
        Assert.Equal(at60, AmbientCorrection.Factor(TemperatureRating.C60, celsius), 0.006);
        Assert.Equal(at75, AmbientCorrection.Factor(TemperatureRating.C75, celsius), 0.006);
        Assert.Equal(at90, AmbientCorrection.Factor(TemperatureRating.C90, celsius), 0.006);
    }

    [Fact]
    public void Nothing_is_carried_where_the_ambient_is_at_the_rating()
    {
        Assert.Equal(0, Parsed.Conductor("4/0 Cu").AmpacityAmps(TemperatureRating.C75, 75));
        Assert.Equal(0, Parsed.Conductor("4/0 Cu").AmpacityAmps(TemperatureRating.C75, 120));
    }

    // Printed at tools.gera.services: 4/0 Cu, 75 °C column, 40 °C ambient, six current-carrying conductors (×0.80,
    // NEC 310.15(C)(1)) carry 162 A.
    [Fact]
    public void A_printed_derating_example_comes_out()
    {
        const double bundlingOfSix = 0.80;
        var amps = Parsed.Conductor("4/0 Cu").AmpacityAmps(TemperatureRating.C75, 40) * bundlingOfSix;
        Assert.Equal(162, amps, 0.5);
    }

    // A wire design table for THWN copper at 30 °C (scribd.com 244138700), independent of the copy that our rows come
    // from. It prints 15, 20 and 30 A for 14 to 10 AWG: the overcurrent cap of 240.4(D), left out here.
    [Theory]
    [InlineData("8 AWG Cu", 50)]
    [InlineData("6 AWG Cu", 65)]
    [InlineData("4 AWG Cu", 85)]
    [InlineData("3 AWG Cu", 100)]
    [InlineData("2 AWG Cu", 115)]
    [InlineData("1 AWG Cu", 130)]
    [InlineData("1/0 AWG Cu", 150)]
    [InlineData("2/0 AWG Cu", 175)]
    [InlineData("3/0 AWG Cu", 200)]
    [InlineData("4/0 AWG Cu", 230)]
    [InlineData("250 kcmil Cu", 255)]
    [InlineData("300 kcmil Cu", 285)]
    [InlineData("350 kcmil Cu", 310)]
    [InlineData("400 kcmil Cu", 335)]
    [InlineData("500 kcmil Cu", 380)]
    [InlineData("600 kcmil Cu", 420)]
    [InlineData("700 kcmil Cu", 460)]
    [InlineData("750 kcmil Cu", 475)]
    [InlineData("800 kcmil Cu", 490)]
    [InlineData("900 kcmil Cu", 520)]
    [InlineData("1000 kcmil Cu", 545)]
    public void Copper_at_75_degrees_carries_what_a_second_table_prints(string text, double amps) =>
        Assert.Equal(amps, Parsed.Conductor(text).AmpacityAmps(TemperatureRating.C75, 30));

    [Theory]
    [InlineData("6 AWG Al", 40, 50, 55)]
    [InlineData("4/0 AWG Al", 150, 180, 205)]
    [InlineData("350 kcmil Al", 210, 250, 280)]
    public void Aluminium_carries_what_table_310_16_prints(string text, double at60, double at75, double at90)
    {
        var conductor = Parsed.Conductor(text);
        Assert.Equal(at60, conductor.AmpacityAmps(TemperatureRating.C60, 30));
        Assert.Equal(at75, conductor.AmpacityAmps(TemperatureRating.C75, 30));
        Assert.Equal(at90, conductor.AmpacityAmps(TemperatureRating.C90, 30));
    }

    [Theory]
    [InlineData("2.5 mm2 Cu", "14 AWG Cu", "12 AWG Cu")]
    [InlineData("120 mm2 Cu", "4/0 AWG Cu", "250 kcmil Cu")]
    [InlineData("70 mm2 Cu", "2/0 AWG Cu", "3/0 AWG Cu")]
    [InlineData("16 mm2 Cu", "6 AWG Cu", "4 AWG Cu")]
    [InlineData("185 mm2 Al", "350 kcmil Al", "400 kcmil Al")]
    [InlineData("400 mm2 Al", "750 kcmil Al", "1000 kcmil Al")]
    public void A_metric_size_carries_an_amount_between_its_neighbours(string text, string below, string above)
    {
        var conductor = Parsed.Conductor(text);
        Assert.True(conductor.AmpacityIsInterpolated);
        Assert.All(Enum.GetValues<TemperatureRating>(), rating => Assert.InRange(
            conductor.AmpacityAmps(rating, 30),
            Parsed.Conductor(below).AmpacityAmps(rating, 30),
            Parsed.Conductor(above).AmpacityAmps(rating, 30)));
    }

    // On from 14 and 12 AWG by their power law: 20·(1.5/2.083)^0.482 in the 75 °C column.
    [Fact]
    public void The_smallest_metric_size_carries_less_than_the_smallest_gauge() =>
        Assert.Equal(17.1, Parsed.Conductor("1.5 mm2 Cu").AmpacityAmps(TemperatureRating.C75, 30), 0.05);

    [Fact]
    public void Every_conductor_says_where_its_numbers_come_from()
    {
        Assert.All(Conductor.All, conductor => Assert.Equal(3, conductor.Origins.Count));
        Assert.All(
            Conductor.All.Where(conductor => conductor.AmpacityIsInterpolated),
            conductor => Assert.Contains(conductor.Origins, origin => origin.Mark == Mark.Interpolated));
        string[] remembered =
            ["700 kcmil Cu", "800 kcmil Cu", "900 kcmil Cu", "700 kcmil Al", "800 kcmil Al", "900 kcmil Al"];
        Assert.Equal(remembered, Conductor.All
            .Where(conductor => conductor.IsNec() && conductor.Origins[2].Mark == Mark.FromMemory)
            .Select(conductor => conductor.Designation));
    }
}
