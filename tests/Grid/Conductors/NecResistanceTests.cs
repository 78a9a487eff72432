using Farberth.Grid.Conductors;

namespace Farberth.Grid.Tests.Conductors;

public class NecResistanceTests
{
    const double MetresPer1000Feet = 304.8;

    // NEC chapter 9 table 8, note; multipliers computed from 0.00323 and 0.00330 per K.
    [Theory]
    [InlineData(20, 0.8224, 0.8185)]
    [InlineData(30, 0.8547, 0.8515)]
    [InlineData(40, 0.8870, 0.8845)]
    [InlineData(50, 0.9193, 0.9175)]
    [InlineData(60, 0.9516, 0.9505)]
    [InlineData(75, 1.0000, 1.0000)]
    [InlineData(90, 1.0485, 1.0495)]
    public void Resistance_follows_the_note_of_table_8(double celsius, double copper, double aluminium)
    {
        Assert.Equal(copper, Multiplier("2/0 Cu", celsius), 6e-5);
        Assert.Equal(aluminium, Multiplier("4/0 Al", celsius), 6e-5);
    }

    // The inferred zero resistance of copper is −234.5 °C and of aluminium −228.1 °C (common practice).
    [Theory]
    [InlineData(20)]
    [InlineData(40)]
    [InlineData(60)]
    [InlineData(90)]
    public void Resistance_agrees_with_the_inferred_zero_of_the_metal(double celsius)
    {
        Assert.Equal((234.5 + celsius) / 309.5, Multiplier("2/0 Cu", celsius), 1e-4);
        Assert.Equal((228.1 + celsius) / 303.1, Multiplier("4/0 Al", celsius), 1e-4);
    }

    static double Multiplier(string conductor, double celsius) =>
        Parsed.Conductor(conductor).OhmsPerMetre(celsius, Raceway.Pvc) /
        Parsed.Conductor(conductor).OhmsPerMetre(75, Raceway.Pvc);

    // Trade constant K, ohm·cmil/ft at 75 °C: 12.9 copper and 21.2 aluminium (printed, for one, at scribd.com 377874716).
    // The slope over temperature gives table 8 back without the AC excess. A slip of 1 % in any of its cells shows here.
    [Fact]
    public void Resistance_times_area_is_the_trade_constant_of_the_metal() => Assert.All(
        Conductor.All.Where(conductor => conductor.IsNec()),
        conductor =>
        {
            var (α, expected) = conductor.Metal == Metal.Copper ? (0.00323, 12.9) : (0.00330, 21.2);
            var slope = conductor.OhmsPerMetre(76, Raceway.Pvc) - conductor.OhmsPerMetre(75, Raceway.Pvc);
            var K = slope / α * 0.3048 * conductor.SquareMillimetres / 5.067e-4;
            Assert.Equal(1, K / expected, tolerance: 0.007);
        });

    // ASTM B258: d = 0.127 mm · 92^((36 − n)/39).
    [Fact]
    public void Gauge_areas_follow_the_wire_gauge_law()
    {
        string[] gauges = ["4/0", "3/0", "2/0", "1/0", "1", "2", "3", "4", "6", "8", "10", "12", "14"];
        int[] n = [-3, -2, -1, 0, 1, 2, 3, 4, 6, 8, 10, 12, 14];
        Assert.All(gauges.Zip(n), gauge =>
        {
            var d = 0.127 * Math.Pow(92, (36.0 - gauge.Second) / 39);
            var area = Parsed.Conductor($"{gauge.First} AWG Cu").SquareMillimetres;
            Assert.Equal(1, area / (Math.PI / 4 * d * d), 1e-3);
        });
        Assert.Equal(177.35, Parsed.Conductor("350 kcmil Al").SquareMillimetres, 0.01);
    }

    [Theory]
    [InlineData("2/0 Cu", Raceway.Pvc, 0.0967)] // table 9 prints 0.10, which rounding explains
    [InlineData("2/0 Cu", Raceway.Steel, 0.0967)]
    [InlineData("250 kcmil Cu", Raceway.Pvc, 0.0515)] // 0.052: just half a step
    [InlineData("250 kcmil Cu", Raceway.None, 0.0515)]
    [InlineData("250 kcmil Cu", Raceway.Steel, 0.054)]
    [InlineData("250 kcmil Cu", Raceway.Aluminium, 0.057)]
    [InlineData("350 kcmil Al", Raceway.Pvc, 0.0605)]
    [InlineData("1000 kcmil Cu", Raceway.Pvc, 0.015)]
    public void The_excess_of_table_9_counts_only_beyond_its_rounding(
        string conductor, Raceway raceway, double ohmsPer1000Feet) => Assert.Equal(
            ohmsPer1000Feet, Parsed.Conductor(conductor).OhmsPerMetre(75, raceway) * MetresPer1000Feet, 1e-9);

    [Fact]
    public void The_excess_stays_the_same_at_another_temperature()
    {
        var conductor = Parsed.Conductor("250 kcmil Cu");
        var excess = conductor.OhmsPerMetre(40, Raceway.Steel) - conductor.OhmsPerMetre(40, Raceway.Pvc);
        Assert.Equal((0.054 - 0.0515) / MetresPer1000Feet, excess, 1e-12);
    }
}
