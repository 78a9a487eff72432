using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;

namespace Farberth.Service.Access;

/// <summary>Signing in at another server, by OpenID Connect. Of the roles that it gives, those count that this program knows.</summary>
static class OpenIdSignIn
{
    public const string Scheme = "elsewhere";

    public static void AddTo(AuthenticationBuilder authentication, OpenIdOptions options) => authentication.AddOpenIdConnect(Scheme, oidc =>
    {
        oidc.Authority = options.Authority.ToString();
        oidc.RequireHttpsMetadata = !options.Authority.IsLoopback;
        oidc.ClientId = options.ClientId;
        oidc.ClientSecret = options.ClientSecret;
        oidc.ResponseType = "code";
        oidc.UsePkce = true;
        oidc.SignInScheme = IdentityConstants.ApplicationScheme;
        oidc.MapInboundClaims = false;
        oidc.TokenValidationParameters.NameClaimType = "name";
        oidc.CallbackPath = "/sign-in/back";
        oidc.Events.OnTokenValidated = context =>
        {
            context.Principal = Known(context.Principal!, options.RoleClaim);
            return Task.CompletedTask;
        };
    });

    internal static ClaimsPrincipal Known(ClaimsPrincipal told, string roleClaim)
    {
        var name = told.Identity?.Name ?? told.FindFirstValue("preferred_username") ?? told.FindFirstValue("sub") ?? "somebody";
        var roles = told.FindAll(roleClaim).Select(claim => claim.Value).Where(Roles.All.Contains).Distinct();
        return new ClaimsPrincipal(new ClaimsIdentity([new(ClaimTypes.Name, name), .. roles.Select(role => new Claim(ClaimTypes.Role, role))], Scheme));
    }
}
