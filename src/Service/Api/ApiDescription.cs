using Microsoft.AspNetCore.OpenApi;

namespace Farberth.Service.Api;

/// <summary>What the description of the API (OpenAPI 3.1) says beside what the endpoints say themselves.</summary>
static class ApiDescription
{
    const string About =
        "A marina dock's supply as its meters show it. Volts and amps are RMS, volts from leg to neutral; times are ISO 8601 in UTC; maps are keyed by "
        + "leg (L1, L2, L3, N). What goes wrong is said as problem details (RFC 9457). What changes something needs the header "
        + OwnPagesOnly.Header + ": " + OwnPagesOnly.Value + ", or a bearer token. " + Caution.Text;

    public static void AddTo(OpenApiOptions options)
    {
        options.ShouldInclude = endpoint => endpoint.RelativePath?.StartsWith("api/", StringComparison.Ordinal) == true;
        options.AddDocumentTransformer((document, _, _) =>
        {
            document.Info = new() { Title = "Farberth", Version = "1", Description = About };
            // Whoever reads it has just found the server.
            document.Servers = [new() { Url = "/" }];
            return Task.CompletedTask;
        });
    }
}
