using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Farberth.Service.Access;

namespace Farberth.Service.Office;

/// <summary>The console: pages that stay live.</summary>
static class OfficePages
{
    public static IServiceCollection AddOffice(this IServiceCollection services)
    {
        services.AddLocalization();
        services.AddRazorComponents().AddInteractiveServerComponents();
        return services;
    }

    public static void MapOffice(this WebApplication app) =>
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode(options => options.ContentSecurityFrameAncestorsPolicy = null).RequireAuthorization(Policies.Look);
}
