using Farberth.Monitoring.Site;
using Farberth.Service.Views;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;

namespace Farberth.Service.Api;

/// <summary>The site as its file describes it.</summary>
static class SitePages
{
    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/site", (SiteDefinition site) => TypedResults.Ok(SiteDescribed.Of(site))).Asks("The site as its file describes it");
        api.MapGet("/docks", All).Asks("Every dock in a few numbers");
        api.MapGet("/docks/{dock}/structure", One).Asks("A dock's pedestals, outlets and cables as the site file describes them")
            .ProducesProblem(StatusCodes.Status404NotFound);
    }

    static Ok<IReadOnlyList<DockBriefly>> All(LatestView latest, Showing showing) =>
        TypedResults.Ok<IReadOnlyList<DockBriefly>>([.. latest.Value.Docks.Values.Select(step => DockBriefly.Of(step, showing.Dock(step)))]);

    static Results<Ok<DockDescribed>, ProblemHttpResult> One(string dock, SiteDefinition site) =>
        site.Docks.TryGetValue(dock, out var known) ? TypedResults.Ok(DockDescribed.Of(known)) : Problems.Unknown($"The site file has no dock {dock}.");
}
