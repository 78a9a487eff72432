using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;

namespace Farberth.Service.Access;

/// <summary>What signing in needs beside its pages.</summary>
static class SignInPages
{
    /// <summary>Requests a minute from one address, for all that guesses could be made at.</summary>
    public const string Guarded = "guarded";

    public static void MapSignIn(this WebApplication app)
    {
        app.MapPost("/sign-out", async (HttpContext context, SignInManager<Account> signIn, IAntiforgery forgery) =>
        {
            if (!await forgery.IsRequestValidAsync(context).ConfigureAwait(false))
                return Results.BadRequest();
            if (OpenIdSignIn.IsFromElsewhere(context.User))
            {
                await OpenIdSignIn.SignOut(context).ConfigureAwait(false);
                return Results.Empty;
            }
            await signIn.SignOutAsync().ConfigureAwait(false);
            return Results.LocalRedirect("/sign-in");
        }).AllowAnonymous();
        app.MapPost("/passkey/new", async (HttpContext context, UserManager<Account> accounts, SignInManager<Account> signIn) =>
        {
            if (await accounts.GetUserAsync(context.User).ConfigureAwait(false) is not { } account)
                return Results.Unauthorized();
            var name = account.UserName!;
            return Results.Content(await signIn.MakePasskeyCreationOptionsAsync(new() { Id = account.Id, Name = name, DisplayName = name }).ConfigureAwait(false), "application/json");
        }).RequireAuthorization(Policies.Look).RequireRateLimiting(Guarded);
        app.MapPost("/passkey/ask", async (SignInManager<Account> signIn) =>
            Results.Content(await signIn.MakePasskeyRequestOptionsAsync(null).ConfigureAwait(false), "application/json"))
            .AllowAnonymous().RequireRateLimiting(Guarded);
        app.MapPost("/api/token", Token).AllowAnonymous().RequireRateLimiting(Guarded).WithSummary("A token for a program, by name and password, good for an hour");
        app.MapGet("/sign-in/elsewhere", (HttpContext context, AccessOptions access) => access.OpenId is null ? Task.FromResult(Results.NotFound()) : OpenIdSignIn.Ask(context))
            .AllowAnonymous().RequireRateLimiting(Guarded);
    }

    /// <summary>For programs: a token in place of a cookie, good for an hour, and one to renew it with.</summary>
    static async Task<IResult> Token(NameAndPassword told, SignInManager<Account> signIn)
    {
        signIn.AuthenticationScheme = IdentityConstants.BearerScheme;
        var result = await signIn.PasswordSignInAsync(told.Name, told.Password, isPersistent: false, lockoutOnFailure: true).ConfigureAwait(false);
        return result.Succeeded ? Results.Empty : Results.Problem("The name or the password is wrong, or was too often.", statusCode: StatusCodes.Status401Unauthorized);
    }

    sealed record NameAndPassword(string Name, string Password);
}
