using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Farberth.Service.Api;

/// <summary>What an endpoint answers where it cannot do what it was asked: problem details (RFC 9457).</summary>
static class Problems
{
    public static ProblemHttpResult Wrong(string detail) => TypedResults.Problem(detail, statusCode: StatusCodes.Status400BadRequest);

    public static ProblemHttpResult Unknown(string detail) => TypedResults.Problem(detail, statusCode: StatusCodes.Status404NotFound);

    public static ProblemHttpResult NotAllowed(string detail) => TypedResults.Problem(detail, statusCode: StatusCodes.Status409Conflict);

    /// <summary>What could not be read of a request, and where.</summary>
    public static void Explain(ProblemDetailsContext context)
    {
        if (context.HttpContext.Features.Get<IExceptionHandlerFeature>()?.Error is BadHttpRequestException bad)
            context.ProblemDetails.Detail = bad.InnerException is { } cause ? $"{bad.Message} {cause.Message}" : bad.Message;
    }

    public static ProblemHttpResult NotNow(string detail) => TypedResults.Problem(detail, statusCode: StatusCodes.Status503ServiceUnavailable);
}
