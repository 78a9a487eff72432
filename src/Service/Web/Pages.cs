using Farberth.Service.Access;
using Microsoft.AspNetCore.Builder;

namespace Farberth.Service.Web;

/// <summary>The one page without the console.</summary>
static class Pages
{
    public static void MapPages(this WebApplication app) => app.MapGet("/", Page.Serve).RequireAuthorization(Policies.Look);
}
