using Microsoft.AspNetCore.Http;

namespace Farberth.Service.Api;

/// <summary>
/// A page of another site can make a browser send a form with the cookie of somebody who is signed in here, but not a header of its own
/// choosing: whatever changes something needs one. A program that comes with a token has no cookie, and so no such need.
/// </summary>
sealed class OwnPagesOnly(RequestDelegate next)
{
    public const string Header = "X-Farberth", Value = "1";

    public Task InvokeAsync(HttpContext context)
    {
        var (method, headers) = (context.Request.Method, context.Request.Headers);
        var onlyAsks = HttpMethods.IsGet(method) || HttpMethods.IsHead(method) || HttpMethods.IsOptions(method);
        return onlyAsks || headers[Header] == Value || headers.Authorization.ToString().StartsWith("Bearer ", StringComparison.Ordinal)
            || context.Request.Path.StartsWithSegments("/api/token")
            ? next(context)
            : TypedResults.Problem($"What changes something needs the header {Header}: {Value}.", statusCode: StatusCodes.Status403Forbidden).ExecuteAsync(context);
    }
}
