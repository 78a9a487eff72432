using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using System.Text.Encodings.Web;
using System.Text.Json;
using Farberth.Service.Access;
using Farberth.Service.Views;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;

namespace Farberth.Service.Web;

/// <summary>Everything that is served over HTTP. All of it only shows; nothing can be changed from here.</summary>
static class Pages
{
    // Two a second at most.
    static readonly TimeSpan BetweenEvents = TimeSpan.FromMilliseconds(500);

    static readonly JsonSerializerOptions Writing = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.KebabCaseLower,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        // A volt or an amp that is not there must not take the page down with it.
        NumberHandling = System.Text.Json.Serialization.JsonNumberHandling.AllowNamedFloatingPointLiterals,
    };

    public static void MapPages(this WebApplication app)
    {
        app.MapGet("/old", Page.Serve).RequireAuthorization(Policies.Look);
        app.MapGet("/api/view", (LatestView latest, Showing showing) => Results.Json(showing.Site(latest.Value), Writing)).RequireAuthorization(Policies.Look);
        app.MapGet("/api/refusals", (LatestView latest) => Results.Json(Showing.Refusals(latest.Value), Writing)).RequireAuthorization(Policies.Look);
        app.MapGet("/api/journal", JournalPages.State).RequireAuthorization(Policies.Look);
        app.MapGet("/api/journal/events", JournalPages.Events).RequireAuthorization(Policies.Look);
        app.MapGet("/api/stream", (LatestView latest, Showing showing, CancellationToken gone) =>
            TypedResults.ServerSentEvents(Changes(latest, showing, gone))).RequireAuthorization(Policies.Look);
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
