using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Farberth.Service.Api;

/// <summary>What an endpoint answers where it cannot do what it was asked: problem details (RFC 9457).</summary>
static class Problems
{
    public static ProblemHttpResult Wrong(string detail) => TypedResults.Problem(detail, statusCode: StatusCodes.Status400BadRequest);

    public static ProblemHttpResult Unknown(string detail) => TypedResults.Problem(detail, statusCode: StatusCodes.Status404NotFound);

    public static ProblemHttpResult NotAllowed(string detail) => TypedResults.Problem(detail, statusCode: StatusCodes.Status409Conflict);

    public static ProblemHttpResult NotNow(string detail) => TypedResults.Problem(detail, statusCode: StatusCodes.Status503ServiceUnavailable);
}
