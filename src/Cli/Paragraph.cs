namespace Farberth.Cli;

/// <summary>Text for people in lines of at most 100 columns.</summary>
static class Paragraph
{
    public const int Columns = 100;

    /// <summary>Broken between words; each line begins with the indent.</summary>
    public static IEnumerable<string> Lines(string text, string indent = "")
    {
        var line = "";
        foreach (var word in text.Split(' '))
        {
            if (line.Length > 0 && indent.Length + line.Length + 1 + word.Length > Columns)
            {
                yield return indent + line;
                line = "";
            }
            line = line.Length == 0 ? word : $"{line} {word}";
        }
        yield return indent + line;
    }

    /// <summary>Padded or cut to a width.</summary>
    public static string Fit(string text, int width) => text.Length <= width ? text.PadRight(width) : text[..(width - 1)] + "…";
}
