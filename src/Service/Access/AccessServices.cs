using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Builder;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Farberth.Service.Access;

/// <summary>Who may do what, put together.</summary>
static class AccessServices
{
    public static IServiceCollection AddAccess(this IServiceCollection services, ServiceOptions options)
    {
        PeopleFile.AddTo(services, options.DataFolder);
        services.AddAuthentication(EverybodyHandler.Everybody)
            .AddScheme<AuthenticationSchemeOptions, EverybodyHandler>(EverybodyHandler.Everybody, null);
        services.AddAuthorization(Policies.AddTo);
        services.AddAntiforgery();
        services.AddCascadingAuthenticationState();
        return services;
    }

    public static void UseAccess(this WebApplication app)
    {
        using (var people = app.Services.GetRequiredService<IDbContextFactory<PeopleDb>>().CreateDbContext())
            people.Database.EnsureCreated();
        app.UseMiddleware<PageHeaders>();
        app.UseAuthentication();
        app.UseAuthorization();
        app.UseAntiforgery();
    }
}
