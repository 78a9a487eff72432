using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon.Tests;

/// <summary>What many tests start from.</summary>
static class Given
{
    /// <summary>A bright afternoon.</summary>
    public static Sky Afternoon(double celsius = 35) => new(celsius, 0.8, 0.5);

    public static Moment Moment(
        double celsius = 35, double volts = 1, bool aboard = true, double seconds = 1, double hour = 3) =>
        new(seconds, hour, Afternoon(celsius), aboard, volts);

    public static Feed OutletA { get; } = new("A", null, null, false, [], default);

    public static NamedRandom Random(string name = "test") => new(1, name);

    public static Simulation Demo() =>
        Simulation("scenarios/kestrel-cove.site.yaml", "scenarios/hot-afternoon.scenario.yaml");

    public static Simulation FourPosts(Func<Scenario, Scenario>? change = null) => Simulation(
        "data/hot-afternoon/four-posts.site.yaml", "data/hot-afternoon/four-posts.scenario.yaml", change);

    public static string FourPostsScenario() => Text("data/hot-afternoon/four-posts.scenario.yaml");

    public static SiteDefinition Site(string path)
    {
        var site = SiteFile.Read(Text(path));
        Assert.Empty(site.Mistakes);
        return site.Site!;
    }

    public static Scenario Scenario(string path)
    {
        var scenario = HotAfternoon.Scenario.Read(Text(path));
        Assert.Empty(scenario.Mistakes);
        return scenario.Scenario!;
    }

    static Simulation Simulation(string sitePath, string scenarioPath, Func<Scenario, Scenario>? change = null)
    {
        var scenario = Scenario(scenarioPath);
        return new Simulation(change is null ? scenario : change(scenario), Site(sitePath));
    }

    public static string Text(string path) => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, path));
}
