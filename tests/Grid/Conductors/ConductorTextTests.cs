using CsCheck;
using Farberth.Grid.Conductors;

namespace Farberth.Grid.Tests.Conductors;

public class ConductorTextTests
{
    [Theory]
    [InlineData("350 kcmil Al", "350 kcmil Al")]
    [InlineData("350 MCM aluminum", "350 kcmil Al")]
    [InlineData("4/0 AWG Cu", "4/0 AWG Cu")]
    [InlineData("4/0 Cu", "4/0 AWG Cu")]
    [InlineData("6 Cu", "6 AWG Cu")]
    [InlineData(" 6   awg\tCU ", "6 AWG Cu")]
    [InlineData("120 mm2 Cu", "120 mm2 Cu")]
    [InlineData("120 mm² Cu", "120 mm2 Cu")]
    [InlineData("120mm^2cu", "120 mm2 Cu")]
    [InlineData("2.50 MM2 copper", "2.5 mm2 Cu")]
    public void Every_usual_way_of_writing_is_read(string text, string designation)
    {
        Assert.True(Conductor.TryParse(text, out var conductor, out var problem));
        Assert.Equal(designation, conductor.Designation);
        Assert.Empty(problem);
    }

    [Theory]
    [InlineData("345 kcmil Al", "345 kcmil Al", "300 kcmil Al and 350 kcmil Al")]
    [InlineData("5 Cu", "5 AWG Cu", "6 AWG Cu and 4 AWG Cu")]
    [InlineData("350 Al", "350 AWG Al", "350 kcmil Al and 400 kcmil Al")]
    [InlineData("14 AWG Al", "14 AWG Al", "12 AWG Al and 10 AWG Al")]
    [InlineData("5/0 Cu", "5/0 AWG Cu", "250 kcmil Cu and 300 kcmil Cu")]
    [InlineData("100 mm2 Cu", "100 mm2 Cu", "95 mm2 Cu and 120 mm2 Cu")]
    [InlineData("0 mm2 Al", "0 mm2 Al", "10 mm2 Al and 16 mm2 Al")]
    public void A_size_that_no_table_has_is_refused_with_the_nearest_that_exist(
        string text, string missing, string nearest)
    {
        Assert.False(Conductor.TryParse(text, out var conductor, out var problem));
        Assert.Null(conductor);
        Assert.Equal($"There is no {missing} in the tables: the nearest sizes are {nearest}.", problem);
    }

    [Theory]
    [InlineData("350 kcmil", "does not end in Cu or Al")]
    [InlineData("350 kcmil Fe", "does not end in Cu or Al")]
    [InlineData("", "is not a conductor")]
    [InlineData("thick", "is not a conductor")]
    [InlineData("٦ AWG Cu", "is not a conductor")]
    [InlineData("-6 AWG Cu", "is not a conductor")]
    [InlineData("999999999999 kcmil Cu", "is not a conductor")]
    [InlineData("6 AWG Cu 4 AWG Cu", "is not a conductor")]
    public void Other_text_is_refused_with_what_is_wrong_and_how_to_write_it(string text, string reason)
    {
        Assert.False(Conductor.TryParse(text, out _, out var problem));
        Assert.Contains(reason, problem, StringComparison.Ordinal);
        Assert.Contains("350 kcmil Al", problem, StringComparison.Ordinal);
    }

    [Fact]
    public void Parsing_a_designation_gives_the_same_conductor()
    {
        Assert.All(Conductor.All, conductor => Assert.Same(conductor, Parsed.Conductor(conductor.Designation)));
        Assert.Equal(Conductor.All.Count, Conductor.All.Select(conductor => conductor.Designation).Distinct().Count());
    }

    [Fact]
    public void Any_text_is_either_read_or_explained() => Gen.String[0, 30].Sample(text =>
        Conductor.TryParse(text, out var conductor, out var problem)
            ? conductor is not null && problem.Length == 0
            : conductor is null && problem.EndsWith('.'));
}
