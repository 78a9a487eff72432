using System.Text;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Service.Access;
using Farberth.Service.SiteEditing;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;

namespace Farberth.Service.Api;

/// <summary>Another site file: checked, compared, put to use.</summary>
static class SiteFilePages
{
    const int MostVersions = 100;

    const string Yaml = "application/yaml";

    public static void Map(IEndpointRouteBuilder api)
    {
        var site = api.MapGroup("/site");
        site.MapPost("/check", (HttpContext context, CancellationToken _) => With(context, text => Task.FromResult(TypedResults.Ok(SiteFile.Read(text).Mistakes))))
            .Changes(Policies.SiteFile, "Every mistake of a site file, with line and column; none: it is good").TakesSiteFile();
        site.MapPost("/difference", (HttpContext context, SiteEditor editor) => With(context, text => Task.FromResult(TypedResults.Ok(editor.Difference(text)))))
            .Changes(Policies.SiteFile, "What a site file would change: in words, and in the volts at each pedestal with the amps that are drawn now").TakesSiteFile();
        site.MapPost("/apply", Apply)
            .Changes(Policies.SiteFile, "Put a site file to use from the next start of the service on, which \"now\" brings about; a file with a mistake is not put to use").TakesSiteFile()
            .Produces<SiteApplied>(StatusCodes.Status422UnprocessableEntity).Produces<SiteApplied>(StatusCodes.Status409Conflict);
        site.MapGet("/file", (SiteEditor editor) => editor.Text is { } text ? Results.Text(text, Yaml) : Problems.Unknown("The site file's text is not known."))
            .Asks("The site file in use, or put to use for the next start").Produces<string>(contentType: Yaml).ProducesProblem(StatusCodes.Status404NotFound);
        site.MapGet("/versions", Versions).Asks("The site files that were in use, the latest first").ProducesProblem(StatusCodes.Status503ServiceUnavailable);
    }

    static async Task<Results<Ok<SiteApplied>, ProblemHttpResult, JsonHttpResult<SiteApplied>>> Apply(HttpContext context, SiteEditor editor, string? over, bool? now)
    {
        if (await Read(context).ConfigureAwait(false) is not { } text)
            return TooLong;
        var applied = await editor.Apply(text, context.User.Identity?.Name ?? "nobody", over, now == true).ConfigureAwait(false);
        return applied.IsDone ? TypedResults.Ok(applied)
            : TypedResults.Json(applied, statusCode: applied.Mistakes.Count > 0 ? StatusCodes.Status422UnprocessableEntity : StatusCodes.Status409Conflict);
    }

    static Results<Ok<IReadOnlyList<SiteVersion>>, ProblemHttpResult> Versions(SiteEditor editor)
    {
        try
        {
            return TypedResults.Ok<IReadOnlyList<SiteVersion>>([.. editor.Versions(MostVersions).Select(version => new SiteVersion(version.AppliedAt, version.Sha256, version.Text))]);
        }
        catch (JournalException e)
        {
            return Problems.NotNow(e.Message);
        }
    }

    static async Task<Results<Ok<T>, ProblemHttpResult>> With<T>(HttpContext context, Func<string, Task<Ok<T>>> answer) =>
        await Read(context).ConfigureAwait(false) is { } text ? await answer(text).ConfigureAwait(false) : TooLong;

    static ProblemHttpResult TooLong => Problems.Wrong($"A site file is at most {SiteEditor.Longest} bytes long.");

    /// <summary>Null where it is too long.</summary>
    static async Task<string?> Read(HttpContext context)
    {
        var bytes = new MemoryStream();
        var buffer = new byte[64 * 1024];
        int read;
        while ((read = await context.Request.Body.ReadAsync(buffer, context.RequestAborted).ConfigureAwait(false)) > 0)
        {
            if (bytes.Length + read > SiteEditor.Longest)
                return null;
            bytes.Write(buffer, 0, read);
        }
        return Encoding.UTF8.GetString(bytes.GetBuffer(), 0, (int)bytes.Length);
    }

    static RouteHandlerBuilder TakesSiteFile(this RouteHandlerBuilder endpoint) => endpoint.Accepts<string>(Yaml, "text/plain", "text/yaml");
}

/// <param name="AppliedAt">When the service first began with it.</param>
public sealed record SiteVersion(DateTimeOffset AppliedAt, string Sha256, string Text);
