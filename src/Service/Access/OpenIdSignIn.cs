using System.Security.Claims;
using System.Text.Encodings.Web;
using Farberth.Monitoring.Words;
using Farberth.Service.Words;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.OpenIdConnect;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.IdentityModel.Protocols.OpenIdConnect;
using Microsoft.IdentityModel.Tokens;

namespace Farberth.Service.Access;

/// <summary>
/// Signing in at another server, by OpenID Connect: authorization code flow with PKCE and nonce. That server says who somebody is; what
/// he may do here is said by the roles that it gives him, as far as this program knows them. Who has none is not let in.
/// </summary>
static class OpenIdSignIn
{
    public const string Scheme = "elsewhere";

    /// <summary>Where somebody is shown that it has not worked.</summary>
    public const string Failed = "/sign-in?failed=elsewhere";

    const string AfterSignOut = "/sign-in";

    public static void AddTo(AuthenticationBuilder authentication, OpenIdOptions options) => authentication.AddOpenIdConnect(Scheme, oidc =>
    {
        oidc.Authority = options.Authority.ToString();
        oidc.RequireHttpsMetadata = !options.Authority.IsLoopback;
        oidc.ClientId = options.ClientId;
        oidc.ClientSecret = options.ClientSecret;
        oidc.ResponseType = OpenIdConnectResponseType.Code;
        // The way back is a link, with which the browser sends cookies of this site; a form from another one would come without them.
        oidc.ResponseMode = OpenIdConnectResponseMode.Query;
        foreach (var cookie in new[] { oidc.NonceCookie, oidc.CorrelationCookie })
            (cookie.SameSite, cookie.SecurePolicy) = (SameSiteMode.Lax, CookieSecurePolicy.SameAsRequest);
        oidc.UsePkce = true;
        oidc.SignInScheme = IdentityConstants.ApplicationScheme;
        oidc.MapInboundClaims = false;
        oidc.TokenValidationParameters.NameClaimType = "name";
        // The other server wants its own token back to sign somebody out.
        oidc.SaveTokens = true;
        (oidc.CallbackPath, oidc.SignedOutCallbackPath, oidc.RemoteSignOutPath) = ("/sign-in/back", "/sign-out/back", PathString.Empty);
        oidc.Events.OnTokenValidated = context => LetIn(context, options);
        oidc.Events.OnRemoteFailure = TurnAway;
        oidc.Events.OnRedirectToIdentityProviderForSignOut = SignOutThere;
    });

    public static bool IsFromElsewhere(ClaimsPrincipal? user) => user?.Identity?.AuthenticationType == Scheme;

    /// <summary>Sends somebody to the other server; the way back leads to the docks.</summary>
    public static async Task<IResult> Ask(HttpContext context)
    {
        try
        {
            await context.ChallengeAsync(Scheme, new AuthenticationProperties { RedirectUri = "/" }).ConfigureAwait(false);
            return Results.Empty;
        }
        catch (InvalidOperationException)
        {
            // The other server has not even said where its pages are.
            return Results.Redirect(Failed);
        }
    }

    /// <summary>Here, and there too where that server takes part (OpenID Connect RP-Initiated Logout 1.0).</summary>
    public static async Task SignOut(HttpContext context)
    {
        var told = await context.AuthenticateAsync(IdentityConstants.ApplicationScheme).ConfigureAwait(false);
        await context.SignOutAsync(IdentityConstants.ApplicationScheme).ConfigureAwait(false);
        try
        {
            await context.SignOutAsync(Scheme, new AuthenticationProperties { RedirectUri = AfterSignOut }).ConfigureAwait(false);
        }
        catch (InvalidOperationException) when (told.Succeeded)
        {
            // The other server does not answer; here he is signed out.
            context.Response.Redirect(AfterSignOut);
        }
        if (context.Response.Headers.Location.ToString() is { } there && there != AfterSignOut)
            await SendOn(context, there).ConfigureAwait(false);
    }

    /// <summary>
    /// By a page of our own that leads there at once: a browser lets the answer to a form lead only where the content security policy lets forms
    /// go, and the other server may have its page for signing out on any host.
    /// </summary>
    static Task SendOn(HttpContext context, string there)
    {
        var words = context.RequestServices.GetRequiredService<WordBook>();
        var response = context.Response;
        response.Headers.Remove("Location");
        (response.StatusCode, response.ContentType, response.Headers["Refresh"]) = (StatusCodes.Status200OK, "text/html; charset=utf-8", $"0; url={there}");
        return response.WriteAsync(
            $"<!doctype html><html lang=\"{words.Language}\"><title>{HtmlEncoder.Default.Encode(words["Sign out"])}</title><p><a href=\"{HtmlEncoder.Default.Encode(there)}\">{HtmlEncoder.Default.Encode(words[Sentence.Of("Sign out at the other server too")])}</a></p></html>");
    }

    internal static ClaimsPrincipal Known(ClaimsPrincipal told, OpenIdOptions options)
    {
        // With where he comes from: the audit is not to take him for an account of this service that has the same name.
        var name = $"{told.FindFirstValue("preferred_username") ?? told.Identity?.Name ?? told.FindFirstValue("sub")} at {options.Authority.Host}";
        var roles = told.FindAll(options.RoleClaim).Select(claim => options.RoleNames.GetValueOrDefault(claim.Value, claim.Value)).Where(Roles.All.Contains).Distinct().ToList();
        if (roles.Count == 0 && options.DefaultRole is { } given)
            roles.Add(given);
        return new ClaimsPrincipal(new ClaimsIdentity([new(ClaimTypes.Name, name), .. roles.Select(role => new Claim(ClaimTypes.Role, role))], Scheme));
    }

    static async Task LetIn(TokenValidatedContext context, OpenIdOptions options)
    {
        // The handler lets an unsigned one pass, since it comes from the server itself; on the loopback address nothing else vouches for that.
        if (context.SecurityToken.SignatureAlgorithm is null or SecurityAlgorithms.None)
        {
            context.Fail("the token is not signed");
            return;
        }
        context.Principal = Known(context.Principal!, options);
        if (context.Principal.HasClaim(claim => claim.Type == ClaimTypes.Role))
            return;
        await Write(context.HttpContext, context.Principal.Identity!.Name!, "has no role here").ConfigureAwait(false);
        context.HandleResponse();
        context.Response.Redirect("/not-allowed");
    }

    /// <summary>A token that is not good, a way back that nobody was sent, or a server that refuses: nobody is signed in.</summary>
    static async Task TurnAway(RemoteFailureContext context)
    {
        await Write(context.HttpContext, "somebody", context.Failure?.GetType().Name ?? "refused").ConfigureAwait(false);
        context.HandleResponse();
        context.Response.Redirect(Failed);
    }

    static Task SignOutThere(RedirectContext context)
    {
        if (string.IsNullOrEmpty(context.ProtocolMessage.IssuerAddress))
        {
            context.HandleResponse();
            context.Response.Redirect(AfterSignOut);
        }
        return Task.CompletedTask;
    }

    static Task Write(HttpContext context, string name, string outcome) =>
        context.RequestServices.GetRequiredService<Audit>().Write("nobody", "sign in elsewhere", name, outcome);
}
