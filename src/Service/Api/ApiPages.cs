using Microsoft.AspNetCore.Builder;

namespace Farberth.Service.Api;

/// <summary>The HTTP API: what the console shows, for programs.</summary>
static class ApiPages
{
    public static void MapApi(this WebApplication app)
    {
    }
}
