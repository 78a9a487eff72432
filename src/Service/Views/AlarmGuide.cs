using System.Collections.Frozen;
using System.Text.RegularExpressions;

namespace Farberth.Service.Views;

/// <summary>What an alarm of each kind means, and what to do: the sections of docs/alarms, which are inside this assembly.</summary>
public static partial class AlarmGuide
{
    const string Resource = "Farberth.Service.alarms.md", Do = "**Do:**";

    static readonly FrozenDictionary<string, AlarmAdvice> Kinds = Read();

    /// <param name="kind">Its word, as "overload".</param>
    public static AlarmAdvice Of(string kind) => Kinds.GetValueOrDefault(kind) ?? new("", "");

    static FrozenDictionary<string, AlarmAdvice> Read()
    {
        using var stream = typeof(AlarmGuide).Assembly.GetManifestResourceStream(Resource)!;
        using var reader = new StreamReader(stream);
        return Section().Matches(reader.ReadToEnd()).ToFrozenDictionary(section => section.Groups["kind"].Value, section => Split(section.Groups["body"].Value));
    }

    static AlarmAdvice Split(string body)
    {
        var at = body.IndexOf(Do, StringComparison.Ordinal);
        return at < 0 ? new(Plain(body), "") : new(Plain(body[..at]), Plain(body[(at + Do.Length)..]));
    }

    /// <summary>The little of Markdown that is in these sections.</summary>
    static string Plain(string text) => Blanks().Replace(Link().Replace(text, "$1").Replace("**", "", StringComparison.Ordinal).Replace("`", "", StringComparison.Ordinal), " ").Trim();

    [GeneratedRegex(@"^### `(?<kind>[a-z-]+)`.*\n(?<body>(?:(?!^#).*\n?)*)", RegexOptions.Multiline)]
    private static partial Regex Section();

    [GeneratedRegex(@"\[([^\]]*)\]\([^)]*\)")]
    private static partial Regex Link();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Blanks();
}

/// <param name="Means">Empty where nothing is written.</param>
public sealed record AlarmAdvice(string Means, string Do);
