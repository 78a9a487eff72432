using Farberth.Service.Access;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;

namespace Farberth.Service.Api;

/// <summary>What the description of the API (OpenAPI 3.1) says beside what the endpoints say themselves.</summary>
static class ApiDescription
{
    const string About =
        "A marina dock's supply as its meters show it. Volts and amps are RMS, volts from leg to neutral; times are ISO 8601 in UTC; maps are keyed by "
        + "leg (L1, L2, L3, N). What goes wrong is said as problem details (RFC 9457). What changes something needs the header "
        + OwnPagesOnly.Header + ": " + OwnPagesOnly.Value + ", or a bearer token. " + Caution.Text;

    public const string Bearer = "bearer", Cookie = "cookie", OwnPage = "own-page";

    public static void AddTo(OpenApiOptions options)
    {
        options.ShouldInclude = endpoint => endpoint.RelativePath?.StartsWith("api/", StringComparison.Ordinal) == true;
        options.AddDocumentTransformer((document, _, _) =>
        {
            document.Info = new() { Title = "Farberth", Version = "1", Description = About };
            // Whoever reads it has just found the server.
            document.Servers = [new() { Url = "/" }];
            document.Components ??= new();
            document.Components.SecuritySchemes = Schemes();
            return Task.CompletedTask;
        });
        options.AddOperationTransformer((operation, context, _) =>
        {
            operation.Security = Needed(context);
            return Task.CompletedTask;
        });
    }

    static Dictionary<string, IOpenApiSecurityScheme> Schemes() => new()
    {
        [Bearer] = new OpenApiSecurityScheme { Type = SecuritySchemeType.Http, Scheme = "bearer", Description = "From POST /api/token, for programs; good for an hour." },
        [Cookie] = new OpenApiSecurityScheme
        {
            Type = SecuritySchemeType.ApiKey, In = ParameterLocation.Cookie, Name = AccessServices.CookieName, Description = "Of a browser in which somebody has signed in.",
        },
        [OwnPage] = new OpenApiSecurityScheme
        {
            Type = SecuritySchemeType.ApiKey, In = ParameterLocation.Header, Name = OwnPagesOnly.Header, Description = $"{OwnPagesOnly.Value}, beside the cookie, for what changes something.",
        },
    };

    /// <summary>
    /// As the endpoint itself says: each role of each policy is one way in, by token or by cookie (OpenAPI 3.1, Security Requirement Object: a
    /// list of which one is enough; the role stands where scopes would). Several policies all have to agree. Null: open to all.
    /// </summary>
    static List<OpenApiSecurityRequirement>? Needed(OpenApiOperationTransformerContext context)
    {
        var metadata = context.Description.ActionDescriptor.EndpointMetadata;
        if (metadata.OfType<IAllowAnonymous>().Any())
            return null;
        var roles = metadata.OfType<IAuthorizeData>().Select(rule => rule.Policy).OfType<string>()
            .Aggregate(Roles.All.AsEnumerable(), (left, policy) => left.Intersect(Policies.RolesOf[policy])).ToList();
        var changes = context.Description.HttpMethod != "GET";
        OpenApiSecuritySchemeReference Reference(string scheme) => new(scheme, context.Document);
        return
        [
            .. roles.Select(role => new OpenApiSecurityRequirement { [Reference(Bearer)] = [role] }),
            .. roles.Select(role => changes
                ? new OpenApiSecurityRequirement { [Reference(Cookie)] = [role], [Reference(OwnPage)] = [] } : new OpenApiSecurityRequirement { [Reference(Cookie)] = [role] }),
        ];
    }
}
