using Microsoft.AspNetCore.Builder;

namespace Farberth.Service.Boater;

/// <summary>The boater's one page.</summary>
static class BoaterPages
{
    public static void MapBoater(this WebApplication app)
    {
    }
}
