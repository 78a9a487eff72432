using Microsoft.AspNetCore.Http;

namespace Farberth.Service.Words;

/// <summary>How somebody likes to read.</summary>
public sealed record Preferences
{
    /// <summary>Of the console's reader, in his browser; it holds nothing else.</summary>
    public const string Cookie = "farberth-reading";

    /// <summary>One of <see cref="WordBook.Languages"/>.</summary>
    public string Language { get; init; } = WordBook.Languages[0];

    /// <summary>auto, day or night.</summary>
    public string Light { get; init; } = "auto";

    public bool IsFahrenheit { get; init; }

    public bool IsFeet { get; init; }

    public bool Is12Hours { get; init; }

    /// <summary>What an address needs to say so that a boater's page is written like this.</summary>
    public string Query => $"?lang={Language}&units={(IsFahrenheit ? 'f' : 'c')}&clock={(Is12Hours ? 12 : 24)}";

    /// <summary>As the address says (?lang=de&amp;units=f&amp;clock=12), else as the browser does.</summary>
    public static Preferences OfAddress(HttpRequest request)
    {
        var wanted = Wanted(request);
        var isAmerican = wanted.FirstOrDefault()?.Equals("en-US", StringComparison.OrdinalIgnoreCase) == true;
        return new()
        {
            Language = WordBook.Known(request.Query["lang"]) ?? Spoken(wanted),
            IsFahrenheit = request.Query["units"].ToString() is { Length: > 0 } units ? units == "f" : isAmerican,
            Is12Hours = request.Query["clock"].ToString() is { Length: > 0 } clock ? clock == "12" : isAmerican,
        };
    }

    /// <summary>As the reader has chosen on the console's page for it; before that in the browser's language.</summary>
    public static Preferences OfCookie(HttpRequest request)
    {
        var said = (request.Cookies[Cookie] ?? "").Split('.');
        return new()
        {
            Language = said.Select(WordBook.Known).FirstOrDefault(known => known != null) ?? Spoken(Wanted(request)),
            Light = said.FirstOrDefault(word => word is "day" or "night") ?? "auto",
            IsFahrenheit = said.Contains("F"),
            IsFeet = said.Contains("ft"),
            Is12Hours = said.Contains("12h"),
        };
    }

    /// <summary>For the cookie.</summary>
    public override string ToString() => string.Join('.', Language, Light, IsFahrenheit ? "F" : "C", IsFeet ? "ft" : "m", Is12Hours ? "12h" : "24h");

    static string Spoken(IEnumerable<string> wanted) => wanted.Select(WordBook.Known).FirstOrDefault(known => known != null) ?? WordBook.Languages[0];

    /// <summary>What the browser asks for, first what it would rather have.</summary>
    static List<string> Wanted(HttpRequest request) => [.. (request.GetTypedHeaders().AcceptLanguage ?? []).Where(one => one.Quality is not 0)
        .OrderByDescending(one => one.Quality ?? 1).Select(one => one.Value.ToString())];
}
