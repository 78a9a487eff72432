using System.Text.RegularExpressions;
using CsCheck;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Tests.Site;

/// <summary>Whatever a text says, the reader gives a site or mistakes with a place in that text.</summary>
public partial class SiteFileMutations
{
    static readonly string[] Originals = [.. SampleFiles.Good.Select(row => SampleFiles.Text(row.Data))];

    static readonly Gen<string> Mutated =
        Gen.Select(Gen.Int[0, Originals.Length - 1], Edit().List[1, 4], (original, edits) =>
            edits.Aggregate(Originals[original], (text, edit) => edit(text)));

    [Fact]
    public void A_mutated_file_gives_a_site_or_mistakes_with_a_valid_place() =>
        Mutated.Sample(GivesSiteOrPlacedMistakes, iter: 3_000);

    [Fact]
    public void Random_text_gives_mistakes_with_a_valid_place() =>
        Gen.Char["abL1:{}[],-#&*!|>'\"%@`?~ \t\n\r\u00b0\u0000\ufeff\ud83d"].Array[0, 60]
            .Select(letters => new string(letters))
            .Sample(GivesSiteOrPlacedMistakes, iter: 20_000, print: Printable);

    [Theory, InlineData("["), InlineData("a: {"), InlineData("- "), InlineData("? "), InlineData("{a: [")]
    public void Deep_nesting_is_a_mistake_and_not_a_crash(string opening)
    {
        var text = string.Concat(Enumerable.Repeat(opening, 5_000));
        Assert.NotEmpty(SiteFile.Read(text).Mistakes);
    }

    static string Printable(string text) => string.Concat(text.Select(
        letter => letter is > ' ' and < '\x7f' ? letter.ToString() : $"<{(int)letter:x}>"));

    static void GivesSiteOrPlacedMistakes(string text)
    {
        var result = SiteFile.Read(text);
        Assert.Equal(result.Site is null, result.Mistakes.Count > 0);
        var lines = LineBreak().Split(text);
        Assert.All(result.Mistakes, mistake =>
        {
            Assert.InRange(mistake.Line, 1, lines.Length);
            Assert.InRange(mistake.Column, 1, lines[mistake.Line - 1].Length + 1);
            Assert.NotEmpty(mistake.Message);
            Assert.DoesNotContain('\n', mistake.Message);
        });
    }

    /// <summary>The line breaks of YAML 1.1, which the library still counts.</summary>
    [GeneratedRegex(@"\r\n|[\r\n\u0085\u2028\u2029]")]
    private static partial Regex LineBreak();

    static Gen<Func<string, string>> Edit() => Gen.Select(
        Gen.Int[0, 4], Gen.Int[0, 1_000], Gen.Int[0, 1_000], Gen.Char["x0-:{}[],#'\"%&*! \t°é"], MutateLine);

    static Func<string, string> MutateLine(int how, int which, int where, char letter) => text =>
    {
        var lines = text.Split('\n').ToList();
        var at = which % lines.Count;
        var line = lines[at];
        var column = where % (line.Length + 1);
        switch (how)
        {
            case 0: lines.RemoveAt(at); break;
            case 1: lines.Insert(at, line); break;
            case 2: lines[at] = line[..column] + letter + line[column..]; break;
            case 3: lines[at] = line[..column]; break;
            default: lines[at] = line[column..] + line[..column]; break;
        }
        return string.Join('\n', lines);
    };
}
