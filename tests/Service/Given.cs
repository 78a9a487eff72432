using Farberth.Monitoring.Site;

namespace Farberth.Service.Tests;

static class Given
{
    public static SiteDefinition FourPosts()
    {
        var result = SiteFile.Read(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "data/hot-afternoon/four-posts.site.yaml")));
        Assert.Empty(result.Mistakes);
        return result.Site!;
    }
}
