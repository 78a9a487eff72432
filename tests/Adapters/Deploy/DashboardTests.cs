using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace Farberth.Adapters.Tests.Deploy;

/// <summary>The dashboards ask for what is written, by the names it is written with.</summary>
public partial class DashboardTests
{
    static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "deploy", "grafana", "dashboards");

    public static TheoryData<string> Each => [.. Directory.EnumerateFiles(Folder, "*.json").Select(path => Path.GetFileName(path))];

    [Fact]
    public void There_is_one_for_the_dock_the_slips_the_alarms_and_the_service() =>
        Assert.Equal(["alarms.json", "dock.json", "service.json", "slips.json"], Each.Select(row => row.Data).Order());

    [Theory]
    [MemberData(nameof(Each))]
    public void Every_panel_has_a_query_and_a_source_that_is_provisioned(string file)
    {
        var sources = SourceId().Matches(Deployed("grafana/provisioning/datasources/farberth.yaml")).Select(match => match.Groups[1].Value).ToHashSet();
        var panels = Panels(file).ToList();
        Assert.NotEmpty(panels);
        Assert.Equal(panels.Count, panels.Select(panel => (int)panel["id"]!).Distinct().Count());
        foreach (var panel in panels)
        {
            Assert.Contains((string)panel["datasource"]!["uid"]!, sources);
            Assert.NotEmpty(panel["targets"]!.AsArray());
            Assert.All(panel["targets"]!.AsArray(), target => Assert.NotEqual("", (string?)(target!["query"] ?? target["expr"])));
        }
    }

    [Theory]
    [MemberData(nameof(Each))]
    public void Every_measurement_tag_and_field_that_is_asked_for_is_written(string file)
    {
        var written = WrittenSeries.All();
        foreach (var query in Panels(file).SelectMany(Targets).Select(target => (string?)target["query"]).OfType<string>())
        {
            var measurement = Assert.Single(Compared("_measurement").Matches(query)).Groups[1].Value;
            Assert.True(written.ContainsKey(measurement), $"{measurement} in {file}");
            var (tags, fields) = written[measurement];
            Assert.NotEmpty(Compared("_field").Matches(query));
            Assert.Empty(Compared("_field").Matches(query).Select(match => match.Groups[1].Value).Except(fields));
            Assert.Empty(Columns(query).Except(tags));
        }
    }

    [Theory]
    [MemberData(nameof(Each))]
    public void Every_metric_that_is_asked_for_is_one_of_the_documents(string file)
    {
        var known = MetricRow().Matches(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "docs", "metrics.md"))).Select(row => row.Groups[1].Value).ToHashSet();
        var asked = Panels(file).SelectMany(Targets).Select(target => (string?)target["expr"]).OfType<string>()
            .SelectMany(expression => Metric().Matches(expression)).Select(metric => metric.Value.Replace("_bucket", "", StringComparison.Ordinal));
        Assert.Empty(asked.Except(known));
    }

    /// <summary>The document's table of what is in the database, row by row what is written.</summary>
    [Fact]
    public void The_document_names_every_measurement_tag_and_field()
    {
        var rows = SeriesRow().Matches(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "docs", "running.md")))
            .ToLookup(row => row.Groups["name"].Value, row => (Tags: List(row.Groups["tags"].Value), Fields: List(row.Groups["fields"].Value)));
        var written = WrittenSeries.All();
        Assert.Equal(written.Keys, rows.Select(row => row.Key).Order(StringComparer.Ordinal));
        foreach (var row in rows)
        {
            Assert.Equal(written[row.Key].Tags, row.SelectMany(one => one.Tags).Distinct().Order(StringComparer.Ordinal));
            Assert.Equal(written[row.Key].Fields, row.SelectMany(one => one.Fields).Distinct().Order(StringComparer.Ordinal));
        }
    }

    static string[] List(string cell) => cell.Split(", ");

    static IEnumerable<JsonNode> Panels(string file) => JsonNode.Parse(File.ReadAllText(Path.Combine(Folder, file)))!["panels"]!.AsArray().Select(panel => panel!);

    static IEnumerable<JsonNode> Targets(JsonNode panel) => panel["targets"]!.AsArray().Select(target => target!);

    static string Deployed(string path) => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "deploy", path));

    /// <summary>Columns that a query compares, keeps, groups or sorts by, less those that every table of the database has.</summary>
    static IEnumerable<string> Columns(string query) =>
        Compared(@"\w+").Matches(query).Select(match => match.Value[2..].Split(' ')[0])
            .Concat(ColumnList().Matches(query).SelectMany(list => Quoted().Matches(list.Value)).Select(quoted => quoted.Groups[1].Value))
            .Where(column => !column.StartsWith('_'));

    static Regex Compared(string column) => new($@"r\.{column} == ""([^""]*)""");

    [GeneratedRegex(@"(columns|columnKey|rowKey): \[[^\]]*\]")]
    private static partial Regex ColumnList();

    [GeneratedRegex("\"([^\"]*)\"")]
    private static partial Regex Quoted();

    [GeneratedRegex(@"\bfarberth_\w+")]
    private static partial Regex Metric();

    [GeneratedRegex(@"^\| `(farberth_\w+)` \|", RegexOptions.Multiline)]
    private static partial Regex MetricRow();

    [GeneratedRegex(@"^    uid: (\w+)$", RegexOptions.Multiline)]
    private static partial Regex SourceId();

    [GeneratedRegex(@"^\| `(?<name>[a-z]+)` \| (?<tags>site[a-z, ]*) \| (?<fields>[a-z_, ]+) \|$", RegexOptions.Multiline)]
    private static partial Regex SeriesRow();
}
