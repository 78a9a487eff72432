using System.Security.Cryptography;
using Microsoft.AspNetCore.Http;

namespace Farberth.Service.Web;

/// <summary>The one web page: a file inside this assembly, whose style and script run only under a fresh nonce.</summary>
static class Page
{
    const string Resource = "Farberth.Service.Web.page.html";

    static readonly string Template = Read();

    public static IResult Serve(HttpContext context)
    {
        var nonce = Convert.ToHexString(RandomNumberGenerator.GetBytes(16));
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = $"default-src 'none'; script-src 'nonce-{nonce}'; style-src 'nonce-{nonce}'; connect-src 'self'; "
            + "img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers.CacheControl = "no-store";
        return Results.Content(
            Template.Replace("{nonce}", nonce, StringComparison.Ordinal).Replace("{caution}", Caution.Text, StringComparison.Ordinal),
            "text/html; charset=utf-8");
    }

    static string Read()
    {
        using var stream = typeof(Page).Assembly.GetManifestResourceStream(Resource)!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
