using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Farberth.Service.Access;

/// <summary>Who may do what, put together.</summary>
static class AccessServices
{
    const int GuardedInMinute = 20, ShortestPassword = 12;

    /// <summary>Of whoever has signed in with a browser.</summary>
    public const string CookieName = "farberth";

    const string EitherWay = "cookie-or-token";

    static readonly TimeSpan SignedInFor = TimeSpan.FromHours(12), LockedFor = TimeSpan.FromMinutes(5);

    public static IServiceCollection AddAccess(this IServiceCollection services, ServiceOptions options)
    {
        PeopleFile.AddTo(services, options.DataFolder);
        KeepKeys(services, options.DataFolder);
        AddAccounts(services, options.Access);
        if (!options.Access.NeedsSignIn)
            services.AddAuthentication(EverybodyHandler.Everybody)
                .AddScheme<AuthenticationSchemeOptions, EverybodyHandler>(EverybodyHandler.Everybody, null);
        services.AddAuthorization(Policies.AddTo);
        services.AddAntiforgery(forgery => forgery.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest);
        services.AddCascadingAuthenticationState();
        services.AddRateLimiter(limits =>
        {
            limits.RejectionStatusCode = StatusCodes.Status429TooManyRequests;
            limits.AddPolicy(SignInPages.Guarded, context => RateLimitPartition.GetFixedWindowLimiter(
                context.Connection.RemoteIpAddress?.ToString() ?? "", _ => new() { PermitLimit = GuardedInMinute, Window = TimeSpan.FromMinutes(1) }));
        });
        return services.AddSingleton(options.Access).AddSingleton(made =>
        {
            using var people = made.GetRequiredService<IDbContextFactory<PeopleDb>>().CreateDbContext();
            return new FirstAdministrator(options.Access.NeedsSignIn && !people.Users.Any());
        });
    }

    public static void UseAccess(this WebApplication app)
    {
        app.Services.GetRequiredService<PeopleFile>().BringUpToDate();
        using (var people = app.Services.GetRequiredService<IDbContextFactory<PeopleDb>>().CreateDbContext())
            AddRoles(people);
        app.UseMiddleware<PageHeaders>();
        app.UseAuthentication();
        // Behind it, since what an account may ask is counted by the account.
        app.UseRateLimiter();
        // What is not there is no matter of who may see it.
        app.Use((context, next) => context.GetEndpoint() is null ? Nowhere(context) : next(context));
        app.UseAuthorization();
        app.UseAntiforgery();
    }

    static Task Nowhere(HttpContext context)
    {
        context.Response.StatusCode = StatusCodes.Status404NotFound;
        return context.Response.WriteAsync("There is no such page.");
    }

    static void AddRoles(PeopleDb people)
    {
        var known = people.Roles.Select(role => role.Name).ToHashSet();
        people.Roles.AddRange(Roles.All.Where(role => !known.Contains(role))
            .Select(role => new IdentityRole(role) { NormalizedName = role.ToUpperInvariant() }));
        people.SaveChanges();
    }

    /// <summary>The keys of cookies outlive the process where anything does.</summary>
    static void KeepKeys(IServiceCollection services, string? folder)
    {
        var protection = services.AddDataProtection().SetApplicationName("farberth");
        if (folder is not null)
            protection.PersistKeysToFileSystem(OwnFolder(Path.Combine(folder, "keys")));
        else
            protection.UseEphemeralDataProtectionProvider();
    }

    /// <summary>One that only this account of the machine reads.</summary>
    static DirectoryInfo OwnFolder(string path) => OperatingSystem.IsWindows() ? Directory.CreateDirectory(path)
        : Directory.CreateDirectory(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);

    static void AddAccounts(IServiceCollection services, AccessOptions options)
    {
        var authentication = services.AddAuthentication(EitherWay);
        authentication.AddPolicyScheme(EitherWay, null, either => either.ForwardDefaultSelector = Scheme);
        authentication.AddBearerToken(IdentityConstants.BearerScheme);
        authentication.AddIdentityCookies();
        if (options.OpenId is { } elsewhere)
            OpenIdSignIn.AddTo(authentication, elsewhere);
        services.AddIdentityCore<Account>(identity =>
            {
                identity.Password = new() { RequiredLength = ShortestPassword, RequireDigit = false, RequireLowercase = false, RequireUppercase = false, RequireNonAlphanumeric = false, RequiredUniqueChars = 5 };
                identity.Lockout = new() { DefaultLockoutTimeSpan = LockedFor, MaxFailedAccessAttempts = 5 };
            })
            .AddRoles<IdentityRole>()
            .AddEntityFrameworkStores<PeopleDb>()
            .AddSignInManager()
            .AddErrorDescriber<AccountMistakes>()
            .AddDefaultTokenProviders();
        services.ConfigureApplicationCookie(cookie =>
        {
            cookie.Cookie.Name = CookieName;
            cookie.Cookie.SameSite = SameSiteMode.Lax;
            cookie.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            cookie.ExpireTimeSpan = SignedInFor;
            cookie.LoginPath = "/sign-in";
            cookie.AccessDeniedPath = "/not-allowed";
            cookie.ReturnUrlParameter = "to";
            // Whom another server has signed in has no account here that could have changed; he is signed in until the cookie ends.
            cookie.Events.OnValidatePrincipal = context => OpenIdSignIn.IsFromElsewhere(context.Principal) ? Task.CompletedTask : SecurityStampValidator.ValidatePrincipalAsync(context);
            cookie.Events.OnRedirectToLogin = context => Answer(context, StatusCodes.Status401Unauthorized);
            cookie.Events.OnRedirectToAccessDenied = context => Answer(context, StatusCodes.Status403Forbidden);
        });
    }

    /// <summary>A browser comes with its cookie, a program with the token that it was given.</summary>
    static string Scheme(HttpContext context) => context.Request.Headers.Authorization.ToString().StartsWith("Bearer ", StringComparison.Ordinal)
        ? IdentityConstants.BearerScheme : IdentityConstants.ApplicationScheme;

    /// <summary>A person is shown where to sign in; a program is told by the status.</summary>
    static Task Answer(RedirectContext<CookieAuthenticationOptions> context, int status)
    {
        if (HttpMethods.IsGet(context.Request.Method) && !context.Request.Path.StartsWithSegments("/api"))
            context.Response.Redirect(context.RedirectUri);
        else
            context.Response.StatusCode = status;
        return Task.CompletedTask;
    }
}
