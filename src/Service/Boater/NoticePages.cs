using System.Text;
using Farberth.Monitoring.Site;
using Farberth.Service.Words;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;

namespace Farberth.Service.Boater;

/// <summary>What the boater's page sends: a mail address, the answer to the mail that went there, a browser's subscription; and the way out of a notice.</summary>
static class NoticePages
{
    const int LongestBody = 4096;

    public static void Map(RouteGroupBuilder pages)
    {
        pages.MapPost("/{token}/mail", Mail);
        pages.MapGet("/{token}/mail/{code}", Question);
        pages.MapPost("/{token}/mail/{code}", Answer);
        pages.MapPost("/{token}/push/{what}", Push);
        pages.MapGet("/stop/{code}", AskToStop);
        pages.MapPost("/stop/{code}", Stop);
    }

    static async Task<IResult> Mail(string token, HttpContext context, Doorkeeper door, Notices notices, BoaterLinks links, PublicAddress address, SiteDefinition site)
    {
        var (stay, status) = await door.Open(token, context.Connection.RemoteIpAddress).ConfigureAwait(false);
        if (stay == null || !notices.HasMail)
            return BoaterPages.Closed(context, stay == null ? status : StatusCodes.Status404NotFound);
        if (context.Request.ContentLength is not <= LongestBody || !context.Request.HasFormContentType)
            return Results.BadRequest();
        var form = await context.Request.ReadFormAsync(context.RequestAborted).ConfigureAwait(false);
        if (form["do"] == "stop")
            return Back(token, context, notices.StopMail(stay, form["address"]));
        var reader = Preferences.OfAddress(context.Request);
        var words = WordBook.OfBoater(reader.Language);
        return Back(token, context, await notices.Ask(stay, form["address"], to => (
            words["confirm.subject", stay.Slip],
            words["confirm.mail", stay.Slip, BoaterPages.Moment(site, reader, stay.To), address.To($"/b/{token}/mail/{links.MailCode(stay, to)}{reader.Query}").AbsoluteUri]),
            context.RequestAborted).ConfigureAwait(false));
    }

    static async Task<IResult> Question(string token, string code, HttpContext context, Doorkeeper door, BoaterLinks links, SiteDefinition site)
    {
        var (stay, status) = await door.Open(token, context.Connection.RemoteIpAddress).ConfigureAwait(false);
        if (stay == null || links.ReadMailCode(stay, code) is not { } mail)
            return BoaterPages.Closed(context, stay == null ? status : StatusCodes.Status404NotFound);
        var reader = Preferences.OfAddress(context.Request);
        return new RazorComponentResult<ConfirmPage>(new
        {
            reader.Language, Address = mail, stay.Slip, Until = BoaterPages.Moment(site, reader, stay.To), Action = $"/b/{token}/mail/{code}{reader.Query}",
        })
        { PreventStreamingRendering = true };
    }

    static async Task<IResult> Answer(string token, string code, HttpContext context, Doorkeeper door, BoaterLinks links, Notices notices)
    {
        var (stay, status) = await door.Open(token, context.Connection.RemoteIpAddress).ConfigureAwait(false);
        return stay == null || links.ReadMailCode(stay, code) is not { } mail
            ? BoaterPages.Closed(context, stay == null ? status : StatusCodes.Status404NotFound)
            : Back(token, context, notices.TellMail(stay, mail, Preferences.OfAddress(context.Request).Language));
    }

    static async Task<IResult> Push(string token, string what, HttpContext context, Doorkeeper door, Notices notices)
    {
        var (stay, status) = await door.Open(token, context.Connection.RemoteIpAddress).ConfigureAwait(false);
        if (stay == null || notices.PushKey == null || what is not ("start" or "stop"))
            return Results.StatusCode(stay == null ? status : StatusCodes.Status404NotFound);
        if (context.Request.ContentLength is not <= LongestBody || !context.Request.HasJsonContentType())
            return Results.BadRequest();
        using var reader = new StreamReader(context.Request.Body, Encoding.UTF8);
        var subscription = await reader.ReadToEndAsync(context.RequestAborted).ConfigureAwait(false);
        return (what == "start" ? notices.TellPush(stay, subscription, Preferences.OfAddress(context.Request).Language) : notices.StopPush(stay, subscription)) switch
        {
            Said.On or Said.Stopped => Results.NoContent(),
            Said.Away => Results.StatusCode(StatusCodes.Status503ServiceUnavailable),
            Said.Full => Results.Conflict(),
            _ => Results.BadRequest(),
        };
    }

    static IResult AskToStop(string code, HttpContext context, Doorkeeper door, BoaterLinks links) =>
        links.ReadStopCode(code) == null ? BoaterPages.Closed(context, door.Refused(context.Connection.RemoteIpAddress)) : StopPage(code, context, null);

    /// <summary>
    /// One POST is enough, by whoever and with whatever in it: mail programs post here for their readers (RFC 8058), and follow no redirection.
    /// Whom nobody tells any more is told so again.
    /// </summary>
    static IResult Stop(string code, HttpContext context, Doorkeeper door, BoaterLinks links, Notices notices) =>
        links.ReadStopCode(code) is not { } contact ? BoaterPages.Closed(context, door.Refused(context.Connection.RemoteIpAddress))
            : StopPage(code, context, notices.StopContact(contact));

    static RazorComponentResult<StopPage> StopPage(string code, HttpContext context, Said? outcome) => new(
        new { Preferences.OfAddress(context.Request).Language, Action = $"/b/stop/{code}?lang={Preferences.OfAddress(context.Request).Language}", Outcome = outcome })
    {
        StatusCode = outcome == Said.Away ? StatusCodes.Status503ServiceUnavailable : StatusCodes.Status200OK, PreventStreamingRendering = true,
    };

    /// <summary>To the page, which says how it has gone; loaded again, it asks for nothing.</summary>
    static SeeOther Back(string token, HttpContext context, Said said) =>
        new($"/b/{token}{Preferences.OfAddress(context.Request).Query}&said={said.ToString().ToLowerInvariant()}#notices");

    /// <summary>RFC 9110, section 15.4.4: look there with GET.</summary>
    sealed class SeeOther(string address) : IResult
    {
        public Task ExecuteAsync(HttpContext httpContext)
        {
            httpContext.Response.StatusCode = StatusCodes.Status303SeeOther;
            httpContext.Response.Headers.Location = address;
            return Task.CompletedTask;
        }
    }
}
