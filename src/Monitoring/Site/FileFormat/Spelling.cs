using System.Globalization;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>Words for messages: the nearest known word, lists, and quotations of bounded length.</summary>
static class Spelling
{
    const int LongestQuote = 40;
    const int FewestLettersOfAPart = 4;

    /// <summary>The known word nearest to what was written, or null if none is near.</summary>
    public static string? Nearest(string written, IEnumerable<string> known)
    {
        var candidates = known
            .Select(word => (Word: word, Edits: Edits(written.ToLowerInvariant(), word.ToLowerInvariant())))
            .OrderBy(candidate => candidate.Edits)
            .ToList();
        return candidates.FirstOrDefault(candidate => candidate.Edits <= Math.Max(1, written.Length / 3)).Word
            ?? candidates.FirstOrDefault(candidate => IsPartOf(written, candidate.Word)).Word;
    }

    /// <summary>'a', 'b' or 'c'.</summary>
    public static Sentence Either(IReadOnlyList<string> words) => words.Count < 2 ? Few(words) : Sentence.Of("{0} or '{1}'", AllButLast(words), words[^1]);

    /// <summary>'a', 'b' and 'c'.</summary>
    public static Sentence Every(IReadOnlyList<string> words) => words.Count < 2 ? Few(words) : Sentence.Of("{0} and '{1}'", AllButLast(words), words[^1]);

    public static string Quote(string text) => $"'{Bare(text)}'";

    /// <summary>As it stands in the file, whatever the reader's language: with a point for decimals.</summary>
    public static string Number(double number) => number.ToString(CultureInfo.InvariantCulture);

    /// <summary>On one line and not too long.</summary>
    public static string Bare(string text)
    {
        var line = OneLine(text);
        return line.Length <= LongestQuote ? line : line[..LongestQuote] + "…";
    }

    public static string OneLine(string text) =>
        string.Concat(text.Select(letter => char.IsControl(letter) ? ' ' : letter));

    static Sentence Few(IReadOnlyList<string> words) => words.Count == 0 ? Sentence.Of("nothing") : Sentence.Of("'{0}'", words[0]);

    static string AllButLast(IReadOnlyList<string> words) => string.Join(", ", words.Take(words.Count - 1).Select(word => $"'{word}'"));

    static bool IsPartOf(string written, string word) =>
        written.Length >= FewestLettersOfAPart && word.Contains(written, StringComparison.OrdinalIgnoreCase);

    // Levenshtein distance by rows: d(i,j) = min(d(i-1,j)+1, d(i,j-1)+1, d(i-1,j-1)+[a_i ≠ b_j]), d(i,0)=i, d(0,j)=j.
    static int Edits(string a, string b)
    {
        if (Math.Abs(a.Length - b.Length) > LongestQuote)
            return int.MaxValue;
        var above = Enumerable.Range(0, b.Length + 1).ToArray();
        for (var i = 1; i <= a.Length; i++)
        {
            var row = new int[b.Length + 1];
            row[0] = i;
            for (var j = 1; j <= b.Length; j++)
            {
                var swap = above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
                row[j] = Math.Min(swap, 1 + Math.Min(above[j], row[j - 1]));
            }
            above = row;
        }
        return above[^1];
    }
}
