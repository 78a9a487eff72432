using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using Farberth.Service.Access;
using Farberth.Service.Placing;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Farberth.Service.Api;

/// <summary>The HTTP API put together: how it writes JSON, what it says where something is wrong, its own description.</summary>
static class ApiServices
{
    public const string Description = "/api/openapi.json";

    public static IServiceCollection AddApi(this IServiceCollection services) => services
        .AddProblemDetails(problems => problems.CustomizeProblemDetails = Problems.Explain)
        .Configure<RouteHandlerOptions>(handlers => handlers.ThrowOnBadRequest = true)
        .ConfigureHttpJsonOptions(json => Write(json.SerializerOptions))
        .Configure<RateLimiterOptions>(ApiLimits.AddTo)
        .AddSingleton<DockAnswers>()
        .AddSingleton<AlarmAnswers>()
        .AddSingleton<SlipSearch>()
        .AddOpenApi(ApiDescription.AddTo);

    /// <summary>Before everything else, so that whatever goes wrong behind it is said in one form.</summary>
    public static void UseProblems(this WebApplication app) => app.UseWhen(IsApi, api => api
        .UseExceptionHandler(new ExceptionHandlerOptions
        {
            StatusCodeSelector = failure => failure is BadHttpRequestException bad ? bad.StatusCode : StatusCodes.Status500InternalServerError,
            // That somebody asked wrongly is no failure of the service.
            SuppressDiagnosticsCallback = failed => failed.Exception is BadHttpRequestException,
        })
        .UseStatusCodePages());

    /// <summary>Behind what knows who asks.</summary>
    public static void UseOwnPagesOnly(this WebApplication app) => app.UseWhen(IsApi, api => api.UseMiddleware<OwnPagesOnly>());

    public static void MapApi(this WebApplication app)
    {
        app.MapOpenApi(Description).RequireAuthorization(Policies.Look).RequireRateLimiting(ApiLimits.Asking);
        var api = app.MapGroup("/api").ProducesProblem(StatusCodes.Status401Unauthorized).ProducesProblem(StatusCodes.Status429TooManyRequests);
        LivePages.Map(api);
        SitePages.Map(api);
        SiteFilePages.Map(api);
        DockPages.Map(api);
        SeriesPages.Map(api);
        AlarmPages.Map(api);
        ActionPages.Map(api);
        AdvicePages.Map(api);
        SlipPages.Map(api);
        JournalPages.Map(api);
        app.MapFallback("/api/{**path}", () => Problems.Unknown("There is nothing at this address.")).AllowAnonymous().ExcludeFromDescription();
    }

    /// <summary>Something that whoever may look may ask.</summary>
    public static RouteHandlerBuilder Asks(this RouteHandlerBuilder endpoint, string summary) =>
        endpoint.RequireAuthorization(Policies.Look).RequireRateLimiting(ApiLimits.Asking).WithSummary(summary);

    /// <summary>Something that changes what others see or get.</summary>
    /// <param name="policy">Who may: one of <see cref="Policies"/>.</param>
    public static RouteHandlerBuilder Changes(this RouteHandlerBuilder endpoint, string policy, string summary) =>
        endpoint.RequireAuthorization(policy).RequireRateLimiting(ApiLimits.Changing).WithSummary(summary)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status403Forbidden);

    static bool IsApi(HttpContext context) => context.Request.Path.StartsWithSegments("/api");

    /// <summary>Names in lower case with hyphens; what is not there is left out; a number is a number.</summary>
    static void Write(JsonSerializerOptions json)
    {
        json.PropertyNamingPolicy = JsonNamingPolicy.KebabCaseLower;
        json.Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping;
        json.NumberHandling = JsonNumberHandling.Strict;
        json.DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull;
        json.RespectRequiredConstructorParameters = true;
        json.RespectNullableAnnotations = true;
        json.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower));
    }
}
