using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon.Tests;

/// <summary>
/// The estimate against the truth of the simulator, whose physics is its own: meters of class 0.5, cable lengths, joints and
/// temperatures that the estimator is not told of. Every standard deviation is honest: the 95 % interval holds the truth 93 to 97 % of
/// the time.
/// </summary>
public class EstimateCoverage(ITestOutputHelper output)
{
    const int FirstHeldOutSeed = 201;

    static readonly SiteDefinition Site = Given.Site("scenarios/kestrel-cove.site.yaml");

    /// <summary>The afternoons on which the readings' standard deviations were set.</summary>
    [Theory]
    [InlineData(0.0)]
    [InlineData(0.1)]
    [InlineData(0.3)]
    public void Ninety_five_percent_intervals_hold_the_truth(double silentShare)
    {
        var coverage = new Coverage();
        for (var seed = 1; seed <= 6; seed++)
            coverage.Take(Site, "H", Afternoon(seed), silentShare);
        output.WriteLine($"silent {silentShare:P0}: {coverage}");
        Assert.InRange(Coverage.Held(coverage.Volts), 0.93, 0.97);
    }

    /// <summary>
    /// Other seeds of that afternoon, and docks of other supplies, shapes, seasons, hours and boats. Minutes of computing: run explicitly,
    /// dotnet run -c Release --project tests/HotAfternoon -- -explicit only -class Farberth.HotAfternoon.Tests.EstimateCoverage
    /// -showLiveOutput. What it gave stands in docs/algorithms/estimate.md.
    /// </summary>
    [Theory(Explicit = true)]
    [InlineData(0.0)]
    [InlineData(0.1)]
    [InlineData(0.3)]
    public void They_hold_it_on_docks_and_days_that_nothing_was_set_on(double silentShare)
    {
        var (same, others) = (new Coverage(), new Coverage());
        for (var seed = FirstHeldOutSeed; seed < FirstHeldOutSeed + 6; seed++)
            same.Take(Site, "H", Afternoon(seed), silentShare);
        output.WriteLine($"silent {silentShare:P0}, the same dock: {same}");
        foreach (var other in OtherDock.All)
        {
            var coverage = new Coverage();
            for (var seed = FirstHeldOutSeed; seed < FirstHeldOutSeed + 4; seed++)
                coverage.Take(other.Site(seed), OtherDock.Dock, other.Scenario(seed), silentShare);
            others.Add(coverage);
            output.WriteLine($"silent {silentShare:P0}, {other.Supply}: {coverage}");
        }
        output.WriteLine($"silent {silentShare:P0}, all other docks: {others}");
        Assert.InRange(Coverage.Held(same.Volts), 0.93, 0.97);
        Assert.InRange(Coverage.Held(others.Volts), 0.93, 0.97);
    }

    static Scenario Afternoon(int seed)
    {
        var demo = Given.Scenario("scenarios/hot-afternoon.scenario.yaml");
        return demo with
        {
            Seed = seed,
            Start = demo.Start.Date.AddHours(15),
            End = demo.Start.Date.AddHours(17),
            Meters = demo.Meters with { GainError = 0.0029 },
        };
    }
}
