using Microsoft.AspNetCore.Http;

namespace Farberth.Service.Office;

/// <summary>How somebody likes to read: kept in a cookie of his browser, which holds nothing else.</summary>
public sealed record Preferences
{
    public const string Cookie = "farberth-reading";

    /// <summary>auto, day or night.</summary>
    public string Light { get; init; } = "auto";

    public bool IsFahrenheit { get; init; }

    public bool IsFeet { get; init; }

    public bool Is12Hours { get; init; }

    public static Preferences Of(IRequestCookieCollection? cookies)
    {
        var said = (cookies?[Cookie] ?? "").Split('.');
        return new()
        {
            Light = said.FirstOrDefault(word => word is "day" or "night") ?? "auto",
            IsFahrenheit = said.Contains("F"),
            IsFeet = said.Contains("ft"),
            Is12Hours = said.Contains("12h"),
        };
    }

    public override string ToString() => string.Join('.', new[] { Light, IsFahrenheit ? "F" : "C", IsFeet ? "ft" : "m", Is12Hours ? "12h" : "24h" });
}
