using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using Farberth.Service.Access;
using Farberth.Service.Views;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Farberth.Service.Api;

/// <summary>The whole site as it is now: once, or as often as it changes.</summary>
static class LivePages
{
    // Two a second at most.
    static readonly TimeSpan BetweenEvents = TimeSpan.FromMilliseconds(500);

    static readonly JsonSerializerOptions Writing = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.KebabCaseLower,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        // A volt or an amp that is not there must not take the page down with it.
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
    };

    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/view", (LatestView latest, Showing showing) => Results.Json(showing.Site(latest.Value), Writing))
            .Asks("The whole site as it is now").Produces<SiteShown>();
        api.MapGet("/stream", (LatestView latest, Showing showing, CancellationToken gone) => TypedResults.ServerSentEvents(Changes(latest, showing, gone)))
            .RequireAuthorization(Policies.Look).RequireRateLimiting(ApiLimits.Streaming)
            .WithSummary("The same as server-sent events: \"view\" whenever it changes, \"still\" while it does not");
        api.MapGet("/refusals", (LatestView latest) => Results.Json(Showing.Refusals(latest.Value), Writing))
            .Asks("What could not be taken, by reason, with the last of each").Produces<IReadOnlyList<RefusalShown>>();
    }

    static async IAsyncEnumerable<SseItem<string>> Changes(
        LatestView latest, Showing showing, [EnumeratorCancellation] CancellationToken gone)
    {
        using var timer = new PeriodicTimer(BetweenEvents);
        SiteView? sent = null;
        do
        {
            var view = latest.Value;
            // The page tells a quiet service from a lost one.
            yield return view == sent ? new SseItem<string>("1", "still")
                : new SseItem<string>(JsonSerializer.Serialize(showing.Site(view), Writing), "view");
            sent = view;
        }
        while (await timer.WaitForNextTickAsync(gone).ConfigureAwait(false));
    }
}
