using Farberth.Monitoring.Site;
using Farberth.Service.Assets;
using Farberth.Service.Views;
using Farberth.Service.Words;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Extensions.DependencyInjection;

namespace Farberth.Service.Boater;

/// <summary>The boater's one page, and what it asks for. Whoever has the link may; nobody signs in.</summary>
static class BoaterPages
{
    public static IServiceCollection AddBoater(this IServiceCollection services, ServiceOptions options) => services
        .AddSingleton(_ => LinkKey.In(options.DataFolder))
        .AddSingleton<BoaterLinks>()
        .AddSingleton<Stays>()
        .AddSingleton<Doorkeeper>()
        .AddSingleton<PublicAddress>(made => new(options, made.GetRequiredService<Microsoft.AspNetCore.Hosting.Server.IServer>()))
        .AddSingleton<SlipHistory>()
        .AddSingleton(options.Notify)
        .AddSingleton<Notices>()
        .AddSingleton<BoaterNotices>()
        .AddSingleton<StayOffice>()
        .AddHostedService<Departures>()
        .AddHostedService<Rehearsal>();

    public static void MapBoater(this WebApplication app)
    {
        StayPages.Map(app);
        // No antiforgery token: there is no cookie whose holder could be made to send something. The right to ask is the link itself,
        // which stands in the address; who does not know it cannot forge a request, and who knows it needs nobody to send it.
        var pages = app.MapGroup("/b").AllowAnonymous().DisableAntiforgery();
        pages.AddEndpointFilter(async (context, next) =>
        {
            context.HttpContext.Response.Headers["X-Robots-Tag"] = "noindex, nofollow";
            return await next(context).ConfigureAwait(false);
        });
        pages.MapGet("/worker.js", AssetPages.Worker);
        pages.MapGet("/{token}", Page);
        NoticePages.Map(pages);
    }

    static async Task<IResult> Page(string token, HttpContext context, Doorkeeper door, LatestView latest, SlipHistory history, Notices notices, TimeProvider clock)
    {
        var (stay, status) = await door.Open(token, context.Connection.RemoteIpAddress).ConfigureAwait(false);
        if (stay == null)
            return Closed(context, status);
        var (view, now) = (latest.Value, clock.GetUtcNow());
        var shown = new BoaterShown(
            view.Site, stay, SlipNow.Of(view, stay.Slip, now), await history.Of(stay).ConfigureAwait(false), view.Now, token,
            Preferences.OfAddress(context.Request), Enum.TryParse<Said>(context.Request.Query["said"], ignoreCase: true, out var said) && Enum.IsDefined(said) ? said : null)
        {
            HasMail = notices.HasMail,
            PushKey = notices.PushKey,
        };
        return new RazorComponentResult<BoaterPage>(new { Shown = shown }) { PreventStreamingRendering = true };
    }

    /// <summary>Of every link that opens nothing the same page.</summary>
    public static IResult Closed(HttpContext context, int status) => new RazorComponentResult<ClosedPage>(
        new { Preferences.OfAddress(context.Request).Language, IsTooMany = status == StatusCodes.Status429TooManyRequests })
    { StatusCode = status, PreventStreamingRendering = true };

    /// <summary>A moment at the marina, as a page's reader writes it.</summary>
    public static string Moment(SiteDefinition site, Preferences reader, DateTimeOffset at) =>
        new Writing(reader, TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone)).DayAndTime(at);
}
