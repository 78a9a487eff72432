using System.Text;

namespace Farberth.Cli.Live;

/// <summary>How loud a piece of text is. Grey where all is normal; colour only for what is not.</summary>
enum Tone
{
    Plain,
    Quiet,
    Strong,
    Low,
    Bad,
}

/// <summary>One line of the terminal view: pieces of text, cut to the width when it is drawn.</summary>
sealed class ScreenLine
{
    readonly List<(string Text, Tone Tone)> pieces = [];

    public ScreenLine(string text = "", Tone tone = Tone.Plain) => Add(text, tone);

    public ScreenLine Add(string text, Tone tone = Tone.Plain)
    {
        pieces.Add((text, tone));
        return this;
    }

    /// <summary>Without colours.</summary>
    public string Text => string.Concat(pieces.Select(piece => piece.Text));

    /// <summary>At most so many columns; what is cut off ends in an ellipsis.</summary>
    public string Draw(int width, bool colours)
    {
        var drawn = new StringBuilder();
        var left = Text.Length <= width ? int.MaxValue : width - 1;
        foreach (var (text, tone) in pieces)
        {
            var part = text[..Math.Min(text.Length, left)];
            left -= part.Length;
            drawn.Append(colours ? Ink(part, tone) : part);
        }
        return Text.Length <= width ? drawn.ToString() : drawn.Append('…').ToString();
    }

    static string Ink(string text, Tone tone) => text.Length == 0 ? "" : tone switch
    {
        Tone.Quiet => $"\e[90m{text}\e[0m",
        Tone.Strong => $"\e[1m{text}\e[0m",
        Tone.Low => $"\e[33m{text}\e[0m",
        Tone.Bad => $"\e[1;31m{text}\e[0m",
        _ => text,
    };
}
