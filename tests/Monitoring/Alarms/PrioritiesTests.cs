using System.Text.RegularExpressions;
using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Tests.Alarms;

public partial class PrioritiesTests
{
    [Theory]
    [InlineData(Consequence.Danger, 1, Priority.High)]
    [InlineData(Consequence.Danger, 60, Priority.High)]
    [InlineData(Consequence.Danger, 61, Priority.Medium)]
    [InlineData(Consequence.Damage, 10, Priority.High)]
    [InlineData(Consequence.Damage, 11, Priority.Medium)]
    [InlineData(Consequence.Damage, 61, Priority.Low)]
    [InlineData(Consequence.Service, 10, Priority.Medium)]
    [InlineData(Consequence.Service, 11, Priority.Low)]
    [InlineData(Consequence.Knowledge, 1, Priority.Low)]
    public void A_priority_comes_from_consequence_and_time(Consequence consequence, double minutes, Priority expected) =>
        Assert.Equal(expected, Priorities.Of(consequence, minutes));

    [Fact]
    public void Worse_or_sooner_is_never_less()
    {
        double[] minutes = [0.1, 5, 10, 30, 60, 240, 1440];
        foreach (var consequence in Enum.GetValues<Consequence>())
            foreach (var (sooner, later) in minutes.Zip(minutes.Skip(1)))
            {
                Assert.True(Priorities.Of(consequence, sooner) >= Priorities.Of(consequence, later));
                if (consequence != Consequence.Danger)
                    Assert.True(Priorities.Of(consequence + 1, sooner) >= Priorities.Of(consequence, sooner));
            }
    }

    /// <summary>The table of docs/alarms/README.md has every kind, and its priorities are what its own reasons give.</summary>
    [Fact]
    public void The_rationalisation_is_what_the_function_says()
    {
        var text = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "docs", "alarms.md"));
        var rows = Row().Matches(text).Select(row => row.Groups).ToList();
        Assert.All(AlarmKinds.Words, word => Assert.Contains(rows, row => row["kind"].Value == word));
        Assert.All(rows, row => Assert.Equal(
            row["priority"].Value,
            Priorities.Of(
                Enum.Parse<Consequence>(row["consequence"].Value, ignoreCase: true),
                double.Parse(row["minutes"].Value) * (row["unit"].Value == "h" ? 60 : 1)).ToString().ToLowerInvariant()));
    }

    [GeneratedRegex(@"^\| `(?<kind>[a-z-]+)`[^|]*\| (?<consequence>[a-z]+):[^|]*\| (?<minutes>\d+) (?<unit>min|h) \| (?<priority>[a-z]+) \|$", RegexOptions.Multiline)]
    private static partial Regex Row();
}
