using Farberth.Monitoring.Site;
using Farberth.Service.Access;
using Farberth.Service.Office.Live;
using Farberth.Service.Words;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;

namespace Farberth.Service.Office;

/// <summary>The console: pages that stay live.</summary>
static class OfficePages
{
    /// <summary>Of a browser to the service: the text of a site file, and room.</summary>
    const long LargestMessage = 4_000_000;

    public static IServiceCollection AddOffice(this IServiceCollection services)
    {
        services.AddRazorComponents().AddInteractiveServerComponents().AddHubOptions(hub => hub.MaximumReceiveMessageSize = LargestMessage);
        services.AddHttpContextAccessor();
        return services
            .AddSingleton<Turns>()
            .AddScoped(made => made.GetRequiredService<IHttpContextAccessor>().HttpContext is { } context ? Preferences.OfCookie(context.Request) : new())
            .AddScoped(made => WordBook.OfConsole(made.GetRequiredService<Preferences>().Language))
            .AddScoped(made => new Writing(made.GetRequiredService<Preferences>(), TimeZoneInfo.FindSystemTimeZoneById(made.GetRequiredService<SiteDefinition>().TimeZone)));
    }

    public static void MapOffice(this WebApplication app) => app.MapRazorComponents<App>()
        .AddInteractiveServerRenderMode(options => options.ContentSecurityFrameAncestorsPolicy = null)
        .RequireAuthorization(Policies.Look);
}
