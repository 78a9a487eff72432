using System.Text.RegularExpressions;

namespace Farberth.Tree.Tests;

/// <summary>What the documents name: paths, files, links and commands.</summary>
static partial class Markdown
{
    /// <summary>All but those of test cases.</summary>
    public static IReadOnlyList<string> Documents { get; } =
    [
        .. from file in Repository.Files
           where file.EndsWith(".md", StringComparison.Ordinal) && !file.StartsWith("tests/data/", StringComparison.Ordinal)
           select file,
    ];

    /// <summary>Text in backticks, and each line of the fenced blocks of commands.</summary>
    public static IEnumerable<string> Quoted(string text)
    {
        foreach (Match block in Fenced().Matches(text))
            if (block.Groups["language"].Value is "" or "bash" or "sh")
                foreach (var line in block.Groups["body"].Value.Split('\n', StringSplitOptions.RemoveEmptyEntries))
                    yield return line.Split(" #")[0].Trim();
        foreach (Match inline in Inline().Matches(Fenced().Replace(text, "")))
            yield return inline.Groups[1].Value;
    }

    /// <summary>Whatever in a quoted text stands for a file or folder of the repository.</summary>
    public static IEnumerable<string> Paths(string quoted) =>
        quoted.Split(' ').Select(word => word.Trim('\'', '"', ',', ';')).Where(word => IsPath().IsMatch(word));

    /// <summary>Targets of links, anchors cut off; those to other sites left out.</summary>
    public static IEnumerable<string> Links(string text) =>
        Link().Matches(text).Select(link => link.Groups[1].Value.Split('#')[0]).Where(to => to.Length > 0 && !to.Contains("://"));

    /// <summary>The first word after the program's name, where it is a command and not a placeholder.</summary>
    public static IEnumerable<string> Commands(string quoted) =>
        Command().Matches(quoted).Select(command => command.Groups[1].Value);

    [GeneratedRegex(@"^```(?<language>\w*)\n(?<body>.*?)^```", RegexOptions.Multiline | RegexOptions.Singleline)]
    private static partial Regex Fenced();

    [GeneratedRegex("`([^`\n]+)`")]
    private static partial Regex Inline();

    /// <summary>Below a top-level folder, or a file name with an ending that this repository uses.</summary>
    [GeneratedRegex(
        @"^((src|tests|docs|deploy|simulators|\.ci)(/[\w.*-]+)*/?"
        + @"|[\w.-]+\.(cs|csproj|slnx|props|md|json|txt|editorconfig|service|conf)|LICENSE)$")]
    private static partial Regex IsPath();

    [GeneratedRegex(@"\[[^\]]+\]\(([^)\s]+)\)")]
    private static partial Regex Link();

    [GeneratedRegex(@"(?:^|\s)(?:farberth|--project src/Cli --) ([a-z][a-z-]*)")]
    private static partial Regex Command();
}
