using System.Text.RegularExpressions;

namespace Farberth.Tree.Tests;

/// <summary>Every alarm rule is asked, and a person who gets its alarm finds what to do.</summary>
public partial class AlarmPages
{
    const string Rules = "src/Monitoring/Alarms/Rules";
    const string Page = "docs/alarms/README.md";

    /// <summary>Class and the word of its kind: SupplyLost and supply-lost.</summary>
    static readonly IReadOnlyList<(string Class, string Word)> All =
    [
        .. from file in Repository.Below(Rules, ".cs")
           from Match rule in RuleClass().Matches(Repository.Read(file))
           let name = rule.Groups[1].Value
           select (name, Capital().Replace(name, "-$0").TrimStart('-').ToLowerInvariant()),
    ];

    [Fact]
    public void Every_rule_is_in_the_list_once()
    {
        var list = Repository.Read($"{Rules}/AlarmRule.cs");
        Assert.True(All.Count >= 9, "the scan finds no rules");
        Assert.Equal(
            All.Select(rule => rule.Class).Order(),
            Constructed().Matches(list).Select(match => match.Groups[1].Value).Order());
    }

    [Fact]
    public void Every_kind_has_a_section_that_says_what_to_do()
    {
        var sections = Section().Matches(Repository.Read(Page))
            .ToDictionary(section => section.Groups["word"].Value, section => section.Groups["body"].Value);
        Assert.Equal(All.Select(rule => rule.Word).Order(), sections.Keys.Order());
        Assert.All(sections, section => Assert.Contains("**Do:**", section.Value));
    }

    /// <summary>The site file's document is checked against the code elsewhere; this page must say the same.</summary>
    [Fact]
    public void The_timings_are_those_of_the_site_files_document()
    {
        var siteFile = Timings(Repository.Read("docs/site-file.md"));
        Assert.Equal(All.Select(rule => rule.Word).Order(), siteFile.Keys.Order());
        Assert.Equal(siteFile, Timings(Repository.Read(Page)));
    }

    static SortedDictionary<string, string> Timings(string text) => new(TimingRow().Matches(text)
        .ToDictionary(row => row.Groups["word"].Value, row => row.Groups["timing"].Value));

    [GeneratedRegex(@"class (\w+)[^\n{]*: IAlarmRule")]
    private static partial Regex RuleClass();

    [GeneratedRegex(@"new (\w+)\(\),")]
    private static partial Regex Constructed();

    [GeneratedRegex("[A-Z]")]
    private static partial Regex Capital();

    [GeneratedRegex(@"^### `(?<word>[a-z-]+)`.*\n(?<body>(?:(?!^#).*\n)*)", RegexOptions.Multiline)]
    private static partial Regex Section();

    [GeneratedRegex(
        @"^\| `(?<word>[a-z-]+)` \| (?<timing>\d+ (?:s|min) \| \d+ (?:s|min) \| [\d.]+ %) \|$", RegexOptions.Multiline)]
    private static partial Regex TimingRow();
}
