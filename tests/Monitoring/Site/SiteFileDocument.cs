using System.Text.RegularExpressions;
using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Site.FileFormat;

namespace Farberth.Monitoring.Tests.Site;

/// <summary>docs/site-file.md says what the code does.</summary>
public class SiteFileDocument
{
    static readonly string Document = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "docs", "site-file.md"));

    [Fact]
    public void The_example_reads_without_a_mistake()
    {
        var result = SiteFile.Read(Example());
        Assert.Empty(result.Mistakes);
        Assert.Equal(["C", "D"], result.Site!.Docks.Keys);
    }

    [Fact]
    public void Every_key_is_written_down() => Assert.All(
        SiteKeys.All.SelectMany(keys => keys.All), key => Assert.Contains($"`{key}`", Document, StringComparison.Ordinal));

    [Fact]
    public void The_table_of_alarm_timings_is_that_of_the_code()
    {
        var rows = Rows(4).Where(row => AlarmKinds.TryParse(row[0], out _)).ToList();
        Assert.Equal(Enum.GetValues<AlarmKind>().Length, rows.Count);
        var timings = rows.Select(row => $"  {row[0]}: {{ raise-after: {row[1]}, clear-after: {row[2]}, deadband: {row[3]} }}");
        var site = ExampleEndingWith("alarms:\n" + string.Join('\n', timings));
        Assert.Equal(RegionDefaults.AlarmTimings.OrderBy(pair => pair.Key), site.AlarmTimings.OrderBy(pair => pair.Key));
    }

    [Theory, InlineData(2, "120/240 V single-phase 3-wire"), InlineData(3, "230 V single-phase")]
    public void The_table_of_limits_is_that_of_the_code(int column, string supply)
    {
        var rows = Rows(5).Where(row => SiteKeys.Limits.All.Contains(row[0].Split(": ")[0])).ToList();
        var groups = rows.GroupBy(row => row[0].Split(": ")[0]).Select(group => group.First()[0].Contains(": ", StringComparison.Ordinal)
            ? $"  {group.Key}: {{ {string.Join(", ", group.Select(row => $"{row[0].Split(": ")[1]}: {row[column]}"))} }}"
            : $"  {group.Key}: {group.Single()[column]}").ToList();
        Assert.Equal(SiteKeys.Limits.All.Count, groups.Count);
        Assert.Equal(
            RegionDefaults.Limits(SupplySystem.All.Single(known => known.Name == supply)),
            LimitsOf("limits:\n" + string.Join('\n', groups), supply));
    }

    [Fact]
    public void The_table_of_advice_is_that_of_the_code()
    {
        var rows = Rows(4).Where(row => SiteKeys.Advice.All.Contains(row[0]) && row[0] != "volts").ToList();
        var site = ExampleEndingWith($"advice: {{ {string.Join(", ", rows.Select(row => $"{row[0]}: {row[2]}"))} }}");
        Assert.Equal(2, rows.Count);
        Assert.Equal(RegionDefaults.Advice, site.Advice);
    }

    /// <summary>The limits written out, read in a small site of that supply.</summary>
    static SiteLimits LimitsOf(string limits, string supply)
    {
        var nominal = SupplySystem.All.Single(known => known.Name == supply).NominalVolts;
        var result = SiteFile.Read($$"""
            site: smallcove
            timezone: UTC
            supply: {{supply}}
            docks:
              A:
                source: { no-load: {{nominal}} V }
                cables: [{ from: source, to: A1, length: 10 m, conductor: 120 mm2 Cu, raceway: pvc }]
                pedestals: { A1: { outlets: { A: { rating: 16 A, legs: [L1] } } } }
            {{limits}}
            """);
        Assert.Empty(result.Mistakes);
        return result.Site!.Limits;
    }

    static SiteDefinition ExampleEndingWith(string alarms)
    {
        var result = SiteFile.Read(Regex.Replace(Example(), @"^alarms:[\s\S]*", alarms, RegexOptions.Multiline));
        Assert.Empty(result.Mistakes);
        return result.Site!;
    }

    /// <summary>The cells of the table rows with so many columns, without back quotes.</summary>
    static IEnumerable<string[]> Rows(int columns) => Document.Split('\n')
        .Where(line => line.StartsWith("| ", StringComparison.Ordinal))
        .Select(line => line.TrimEnd().Trim('|').Replace("`", "", StringComparison.Ordinal).Split('|', StringSplitOptions.TrimEntries))
        .Where(cells => cells.Length == columns);

    static string Example() => Regex.Match(Document, "```yaml\n([\\s\\S]*?)```").Groups[1].Value;
}
