using Farberth.Grid.Tests.Conductors;

namespace Farberth.Grid.Tests.WorkedExamples;

/// <summary>
/// The drop in one conductor is close to I·(R·cosθ + X·sinθ) (NEC chapter 9 table 9, note 2; UFC 3-520-01 B-2.1): twice
/// that there and back in a single-phase circuit, √3 times it between the lines of three equal legs.
/// </summary>
public class DropByHandFormulaTests
{
    public static TheoryData<PrintedDropExample> Examples => [.. PrintedDropExamples.All];

    [Theory]
    [MemberData(nameof(Examples), DisableDiscoveryEnumeration = true)]
    public void Our_conductors_give_the_printed_drop(PrintedDropExample example) =>
        Assert.Equal(example.PrintedVolts, DropVolts(example), example.ToleranceVolts);

    static double DropVolts(PrintedDropExample example)
    {
        var conductor = Parsed.Conductor(example.ConductorText);
        var (cos, sin) = (example.PowerFactor, Math.Sqrt(1 - example.PowerFactor * example.PowerFactor));
        var R = conductor.OhmsPerMetre(example.ConductorCelsius, example.Raceway);
        var X = conductor.ReactanceOhmsPerMetre(example.Raceway, example.Supply.Hertz);
        var perLeg = example.Amps * example.LengthMetres * (R * cos + X * sin);
        return perLeg * (example.Loading == DropLoading.ThreeLegs ? Math.Sqrt(3) : 2);
    }

    [Fact]
    public void The_examples_cover_each_loading_and_both_metals()
    {
        Assert.Equal(3, PrintedDropExamples.All.Select(example => example.Loading).Distinct().Count());
        Assert.Equal(2, PrintedDropExamples.All.Select(example => example.ConductorText[^2..]).Distinct().Count());
        Assert.All(PrintedDropExamples.All, example =>
            Assert.True(example.ToleranceVolts < example.PrintedVolts * 0.05, example.Name));
    }
}
