using System.Text.RegularExpressions;
using Farberth.Tree.Tests.CSharp;

namespace Farberth.Tree.Tests;

/// <summary>Rules of style that a reader would otherwise have to watch for.</summary>
public partial class CodeRules(ITestOutputHelper output)
{
    /// <summary>A reader takes in 30 lines at a glance; nothing is longer than this.</summary>
    const int LongestFunction = 70;

    const int MedianFileLines = 100;

    static IEnumerable<string> Code(params string[] folders) => folders.SelectMany(folder => Repository.Below(folder, ".cs"));

    static IEnumerable<(string File, Member Member)> Members(params string[] folders) =>
        from file in Code(folders)
        from member in MemberScan.Of(Repository.Read(file))
        select (file, member);

    [Fact]
    public void No_function_is_longer_than_a_page()
    {
        var functions = Members("src", "simulators", "tests").Where(found => found.Member.Kind == MemberKind.Function)
            .OrderByDescending(found => found.Member.Lines).ToList();
        Assert.True(functions.Count > 100, "the scanner finds no functions");
        foreach (var (file, member) in functions.Take(5))
            output.WriteLine($"{member.Lines} lines: {file}:{member.FirstLine}");
        Assert.Empty(
            from found in functions
            where found.Member.Lines > LongestFunction
            select $"{found.File}:{found.Member.FirstLine}");
    }

    [Theory]
    [InlineData("src/Grid")]
    [InlineData("src/Monitoring")]
    [InlineData("src/Planning")]
    [InlineData("src/Adapters")]
    [InlineData("src/Service")]
    [InlineData("src/Cli")]
    [InlineData("simulators")]
    [InlineData("tests")]
    public void Half_of_the_files_of_a_room_are_short(string room)
    {
        var lines = Code(room).Select(file => Repository.Read(file).Count(c => c == '\n')).Order().ToList();
        var median = lines.ElementAtOrDefault(lines.Count / 2);
        Assert.True(median < MedianFileLines, $"the median is {median} lines");
    }

    [Fact]
    public void Nothing_waits_for_time_to_pass_in_tests_and_pure_rooms() => Assert.Empty(
        from file in Code("src/Grid", "src/Monitoring", "src/Planning", "tests")
        where Waits().IsMatch(CodeText.Of(Repository.Read(file)))
        select file);

    [Fact]
    public void No_static_state_can_change() => Assert.Empty(
        from found in Members("src", "simulators")
        where CanChange(found.Member)
        select $"{found.File}:{found.Member.FirstLine}");

    [Theory]
    [InlineData("static int count;", true)]
    [InlineData("public static Site? Current { get; set; }", true)]
    [InlineData("[ThreadStatic] static int[] cache = new int[3];", true)]
    [InlineData("static readonly Dictionary<string, int> Cache = [];", true)]
    [InlineData("static event Action? Changed;", true)]
    [InlineData("static readonly IReadOnlyDictionary<string, List<int>> Table = Make();", false)]
    [InlineData("public static Site Empty { get; } = new();", false)]
    [InlineData("const int Static = 3;", false)]
    [InlineData("using static System.Math;", false)]
    [InlineData("static int Count() => 3;", false)]
    [InlineData("private static partial Regex Waits();", false)]
    public void Static_state_that_can_change_is_recognised(string member, bool canChange) =>
        Assert.Equal(canChange, CanChange(Assert.Single(MemberScan.Of(member))));

    static bool CanChange(Member member)
    {
        if (member.Kind != MemberKind.Other || !Static().IsMatch(member.Head) || member.Head.EndsWith(')'))
            return false;
        if (member.Body.StartsWith('{'))
            return member.Body.Contains("set;", StringComparison.Ordinal);
        return !ReadOnly().IsMatch(member.Head) || MutableType().IsMatch(member.Head);
    }

    [GeneratedRegex(@"\b(Task\s*\.\s*Delay|Thread\s*\.\s*Sleep)\b")]
    private static partial Regex Waits();

    [GeneratedRegex(@"^(?!(global\s+)?using\b)[\s\S]*\bstatic\b")]
    private static partial Regex Static();

    [GeneratedRegex(@"\breadonly\b")]
    private static partial Regex ReadOnly();

    [GeneratedRegex(
        @"\breadonly\s+([\w.]+\.)?(List|(Sorted)?Dictionary|HashSet|SortedSet|Queue|Stack|Concurrent\w+|StringBuilder)\b")]
    private static partial Regex MutableType();
}
