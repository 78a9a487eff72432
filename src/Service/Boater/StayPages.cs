using System.Text.Json;
using Farberth.Monitoring.Site;
using Farberth.Service.Access;
using Farberth.Service.Words;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Farberth.Service.Boater;

/// <summary>Stays over HTTP, for the dock office: written down, ended, and the link of each as text, as a code and as a card to print.</summary>
static class StayPages
{
    static readonly JsonSerializerOptions Writing = new() { PropertyNamingPolicy = JsonNamingPolicy.KebabCaseLower };

    public static void Map(WebApplication app)
    {
        var stays = app.MapGroup("/api/stays").RequireAuthorization(Policies.Stays).ProducesProblem(StatusCodes.Status401Unauthorized).ProducesProblem(StatusCodes.Status403Forbidden);
        stays.MapGet("/", async (Stays all, string? slip, bool? past) => Results.Json(await all.List(slip, past == true).ConfigureAwait(false), Writing))
            .WithSummary("Stays, the latest arrival first; without past those that are not over");
        stays.MapPost("/", Add).WithSummary("A boat lies in a slip from a moment on, up to another");
        stays.MapPost("/{id:long}/end", async (long id, HttpContext context, StayOffice office) => Left(await office.End(id, By(context)).ConfigureAwait(false)))
            .WithSummary("The boat has left");
        stays.MapPost("/{id:long}/revoke", async (long id, HttpContext context, StayOffice office) => Left(await office.Revoke(id, By(context)).ConfigureAwait(false)))
            .WithSummary("The stay's link opens nothing any more");
        stays.MapGet("/{id:long}/link", (long id, Stays all, BoaterLinks links, PublicAddress address) =>
            With(id, all, links, address, (stay, link) => Results.Json(new { Link = link, stay.Slip, stay.To }, Writing))).WithSummary("The link to the boater's page");
        stays.MapGet("/{id:long}/code.svg", (long id, Stays all, BoaterLinks links, PublicAddress address) =>
            With(id, all, links, address, (_, link) => Results.Text(LinkCode.Svg(link), "image/svg+xml"))).WithSummary("The link as a QR code");
        stays.MapGet("/{id:long}/card", (long id, Stays all, BoaterLinks links, PublicAddress address, SiteDefinition site) =>
            With(id, all, links, address, (stay, link) => new RazorComponentResult<CardPage>(new { stay.Slip, Link = link, Until = Until(site, stay) })
            { PreventStreamingRendering = true })).WithSummary("A card with the code, to print");
    }

    static async Task<IResult> Add(StayAsked asked, HttpContext context, StayOffice office)
    {
        var outcome = await office.Add(asked, By(context)).ConfigureAwait(false);
        return outcome.Stay is { } stay ? Results.Json(stay, Writing, statusCode: StatusCodes.Status201Created)
            : Results.Problem(outcome.Refused?.ToString(), statusCode: outcome.IsTaken ? StatusCodes.Status409Conflict : StatusCodes.Status400BadRequest);
    }

    static IResult Left(BoatStay? stay) => stay == null ? Results.NotFound() : Results.Json(stay, Writing);

    static async Task<IResult> With(long id, Stays all, BoaterLinks links, PublicAddress address, Func<BoatStay, Uri, IResult> give) =>
        await all.Find(id).ConfigureAwait(false) is { } stay ? give(stay, address.To($"/b/{links.Token(stay)}")) : Results.NotFound();

    static Dictionary<string, string> Until(SiteDefinition site, BoatStay stay) => WordBook.Languages.ToDictionary(
        language => language, language => BoaterPages.Moment(site, new() { Language = language }, stay.To));

    static string By(HttpContext context) => context.User.Identity?.Name ?? "nobody";
}
