using Microsoft.AspNetCore.Http;

namespace Farberth.Service.Access;

/// <summary>What every answer tells the browser about itself: nothing from other hosts, in no frame, no script within the page.</summary>
sealed class PageHeaders(RequestDelegate next)
{
    // Charts set the style of their own elements; that is all that a style attribute is let do.
    const string Policy = "default-src 'none'; script-src 'self'; style-src 'self'; style-src-attr 'unsafe-inline'; img-src 'self' data:; "
        + "connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'self'; frame-ancestors 'none'";

    public Task InvokeAsync(HttpContext context)
    {
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        // A boater's link is told to nobody. Elsewhere the browser says where a form comes from, which passkeys rest on.
        headers["Referrer-Policy"] = context.Request.Path.StartsWithSegments("/b") ? "no-referrer" : "same-origin";
        headers["Permissions-Policy"] = "camera=(), geolocation=(), microphone=()";
        // Both words: antiforgery puts them there itself where one is missing, and warns of it with every page.
        headers.CacheControl = "no-cache, no-store";
        return next(context);
    }
}
