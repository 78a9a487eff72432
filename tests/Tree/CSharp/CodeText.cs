namespace Farberth.Tree.Tests.CSharp;

/// <summary>
/// C# with every comment, directive, character and string made blank, each of the same length and with its line breaks:
/// what is left can be read brace by brace. Holes of interpolated strings are made blank with the string.
/// </summary>
static class CodeText
{
    public static string Of(string source)
    {
        var code = source.ToCharArray();
        for (var at = 0; at < source.Length;)
        {
            var end = EndOfOther(source, at);
            for (var i = at; i < end; i++)
                if (code[i] != '\n')
                    code[i] = ' ';
            at = Math.Max(end, at + 1);
        }
        return new string(code);
    }

    /// <summary>The end of the comment, directive, character or string that begins here; else this place itself.</summary>
    static int EndOfOther(string source, int at) => source[at] switch
    {
        '/' when Next(source, at) == '/' => EndOfLine(source, at),
        '/' when Next(source, at) == '*' => Past(source, "*/", at + 2),
        '#' when IsFirstOfLine(source, at) => EndOfLine(source, at),
        '\'' => EndOfQuoted(source, at, '\'', hasHoles: false),
        '"' or '$' or '@' => EndOfString(source, at),
        _ => at,
    };

    static int EndOfString(string source, int at)
    {
        var quote = at;
        while (quote < source.Length && source[quote] is '$' or '@')
            quote++;
        if (quote == source.Length || source[quote] != '"')
            return at;
        var (prefix, quotes) = (source[at..quote], quote);
        if (prefix.Contains('@'))
            return EndOfVerbatim(source, quote);
        while (quotes < source.Length && source[quotes] == '"')
            quotes++;
        if (quotes - quote >= 3)
            return Past(source, new string('"', quotes - quote), quotes);
        return EndOfQuoted(source, quote, '"', prefix.Contains('$'));
    }

    static int EndOfVerbatim(string source, int quote)
    {
        var at = quote + 1;
        while (at < source.Length && (source[at] != '"' || Next(source, at) == '"'))
            at += source[at] == '"' ? 2 : 1;
        return Math.Min(at + 1, source.Length);
    }

    static int EndOfQuoted(string source, int open, char quote, bool hasHoles)
    {
        for (var at = open + 1; at < source.Length; at++)
        {
            if (source[at] == quote || source[at] == '\n')
                return at + 1;
            if (source[at] == '\\')
                at++;
            else if (hasHoles && source[at] == '{' && Next(source, at) == '{')
                at++;
            else if (hasHoles && source[at] == '{')
                at = EndOfHole(source, at) - 1;
        }
        return source.Length;
    }

    static int EndOfHole(string source, int open)
    {
        var depth = 0;
        for (var at = open; at < source.Length;)
        {
            var end = EndOfOther(source, at);
            if (end > at)
            {
                at = end;
                continue;
            }
            depth += source[at] switch { '{' => 1, '}' => -1, _ => 0 };
            at++;
            if (depth == 0)
                return at;
        }
        return source.Length;
    }

    static char Next(string source, int at) => at + 1 < source.Length ? source[at + 1] : '\0';

    static bool IsFirstOfLine(string source, int at)
    {
        var before = source.AsSpan(0, at).TrimEnd(" \t");
        return before.IsEmpty || before[^1] == '\n';
    }

    static int EndOfLine(string source, int at) => source.IndexOf('\n', at) is >= 0 and var end ? end : source.Length;

    static int Past(string source, string end, int from) =>
        source.IndexOf(end, Math.Min(from, source.Length), StringComparison.Ordinal) is >= 0 and var at
            ? at + end.Length : source.Length;
}
