using Farberth.Service.Access;
using Farberth.Service.Office.Live;
using Farberth.Service.Views;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Localization;
using Microsoft.Extensions.DependencyInjection;

namespace Farberth.Service.Office;

/// <summary>The console: pages that stay live.</summary>
static class OfficePages
{
    /// <summary>Of a browser to the service: the text of a site file, and room.</summary>
    const long LargestMessage = 4_000_000;

    public static IServiceCollection AddOffice(this IServiceCollection services)
    {
        services.AddLocalization();
        services.AddRazorComponents().AddInteractiveServerComponents().AddHubOptions(hub => hub.MaximumReceiveMessageSize = LargestMessage);
        services.AddHttpContextAccessor();
        return services.AddScoped(made => new Figures(
            Preferences.Of(made.GetRequiredService<IHttpContextAccessor>().HttpContext?.Request.Cookies), made.GetRequiredService<Showing>()));
    }

    public static void UseLanguages(this WebApplication app)
    {
        string[] all = [.. Languages.All.Keys];
        app.UseRequestLocalization(options =>
        {
            options.SetDefaultCulture(all[0]).AddSupportedCultures(all).AddSupportedUICultures(all);
            options.RequestCultureProviders = [new CookieRequestCultureProvider { CookieName = Languages.Cookie }, new AcceptLanguageHeaderRequestCultureProvider()];
        });
    }

    public static void MapOffice(this WebApplication app) => app.MapRazorComponents<App>()
        .AddInteractiveServerRenderMode(options => options.ContentSecurityFrameAncestorsPolicy = null)
        .RequireAuthorization(Policies.Look);
}
