using Microsoft.AspNetCore.Http;

namespace Farberth.Service.Words;

/// <summary>How somebody wants to read: as the address says (?lang=de&amp;units=f&amp;clock=12), else as his browser does.</summary>
public sealed record Preferences(string Language, bool Fahrenheit, bool TwelveHours)
{
    public static Preferences Of(HttpRequest request)
    {
        var wanted = (request.GetTypedHeaders().AcceptLanguage ?? []).Where(one => one.Quality is not 0)
            .OrderByDescending(one => one.Quality ?? 1).Select(one => one.Value.ToString()).ToList();
        var language = WordBook.Known(request.Query["lang"]) ?? wanted.Select(WordBook.Known).FirstOrDefault(known => known != null) ?? WordBook.Languages[0];
        var isAmerican = wanted.FirstOrDefault()?.Equals("en-US", StringComparison.OrdinalIgnoreCase) == true;
        return new(
            language,
            request.Query["units"].ToString() is { Length: > 0 } units ? units == "f" : isAmerican,
            request.Query["clock"].ToString() is { Length: > 0 } clock ? clock == "12" : isAmerican);
    }

    /// <summary>What an address needs to say so that the page is written like this.</summary>
    public string Query => $"?lang={Language}&units={(Fahrenheit ? 'f' : 'c')}&clock={(TwelveHours ? 12 : 24)}";
}
