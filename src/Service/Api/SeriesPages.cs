using Farberth.Monitoring.Site;
using Farberth.Service.Views;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;

namespace Farberth.Service.Api;

/// <summary>Volts and amps over time, for charts.</summary>
static class SeriesPages
{
    public static void Map(IEndpointRouteBuilder api) => api.MapGet("/pedestals/{pedestal}/series", Series)
        .Asks("Volts and amps of a pedestal, or of one of its outlets, over a while, in so few points that a chart can take them; no peak is lost")
        .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status503ServiceUnavailable);

    static Results<Ok<HistorySeries>, ProblemHttpResult> Series(
        string pedestal, string? outlet, DateTimeOffset from, DateTimeOffset to, int? points, SiteDefinition site, SeriesReader reader)
    {
        var known = site.Docks.Values.Select(dock => dock.Pedestals.GetValueOrDefault(pedestal)).FirstOrDefault(one => one is not null);
        if (known is null || (outlet is not null && !known.Outlets.ContainsKey(outlet)))
            return Problems.Unknown("The site file has no such pedestal or outlet.");
        if (to <= from || to - from > SeriesReader.Longest)
            return Problems.Wrong($"\"to\" must be after \"from\", by {SeriesReader.Longest.TotalDays:0} days at most.");
        if (points is < 2 or > SeriesReader.MostPoints)
            return Problems.Wrong($"\"points\" must be 2 to {SeriesReader.MostPoints}.");
        try
        {
            return TypedResults.Ok(reader.Read(pedestal, outlet, from, to, points ?? SeriesReader.UsualPoints));
        }
        catch (IOException e)
        {
            return Problems.NotNow(e.Message);
        }
    }
}
