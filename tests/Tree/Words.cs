using System.Text.RegularExpressions;

namespace Farberth.Tree.Tests;

/// <summary>Words that have no place in what is handed over, here in two halves so that this file may have them.</summary>
public class Words
{
    static readonly string[] Patterns =
    [
        @"\bTO" + @"DO\b", @"\bFIX" + @"ME\b", @"\bXX" + @"X\b", "NotImplemented" + "Exception", "NotSupported" + @"Exception\(\)",
        "/wor" + "k/", "/tm" + "p/", "/ho" + "me/", "/ro" + "ot/", "/Us" + "ers/", @"[A-Z]:\\Us" + "ers",
        "nuget" + @"\.org", @"\biss" + @"ue #?\d", "seed docu" + "ment", "transc" + "ript", "<<<<" + "<<<", ">>>>" + ">>>",
    ];

    static readonly Regex Forbidden = new(string.Join('|', Patterns), RegexOptions.IgnoreCase);

    /// <summary>All but pictures.</summary>
    static IEnumerable<string> Texts => Repository.Files.Where(file => !file.EndsWith(".png", StringComparison.Ordinal));

    [Fact]
    public void No_file_has_a_forbidden_word() => Assert.Empty(
        from file in Texts
        from line in Repository.Read(file).Split('\n').Select((text, at) => (text, number: at + 1))
        where Forbidden.IsMatch(line.text) || Forbidden.IsMatch(file)
        select $"{file}:{line.number}: {line.text.Trim()}");

    [Theory]
    [InlineData("// TO" + "DO: later")]
    [InlineData("throw new NotImplemented" + "Exception();")]
    [InlineData("cat /tm" + "p/x")]
    [InlineData("see iss" + "ue 12")]
    public void A_forbidden_word_is_found(string line) => Assert.Matches(Forbidden, line);

    [Fact]
    public void Every_text_file_ends_its_lines_alike() => Assert.Empty(
        from file in Texts
        let text = Repository.Read(file)
        where text.Contains('\r') || (text.Length > 0 && !text.EndsWith('\n'))
        where !file.StartsWith("tests/data/", StringComparison.Ordinal)
        select file);
}
