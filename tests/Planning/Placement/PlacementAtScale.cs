using System.Diagnostics;
using Farberth.Planning.Placement;

namespace Farberth.Planning.Tests.Placement;

/// <summary>
/// What docs/algorithms/planning-placement.md says of speed and proof. Takes minutes and depends on the machine, so it is run by hand:
/// dotnet run -c Release --project tests/Planning -- -explicit only -class Farberth.Planning.Tests.Placement.PlacementAtScale
/// </summary>
public class PlacementAtScale(ITestOutputHelper output)
{
    [Theory(Explicit = true)]
    [InlineData(4, 50, 40, 7, 10, 1)]
    [InlineData(4, 50, 40, 7, 10, 2)]
    [InlineData(4, 50, 40, 7, 10, 3)]
    [InlineData(4, 50, 40, 7, 10, 4)]
    [InlineData(4, 50, 40, 7, 10, 5)]
    [InlineData(4, 50, 40, 7, 10, 6)]
    [InlineData(10, 50, 100, 14, 30, 1)]
    [InlineData(10, 50, 100, 14, 30, 2)]
    [InlineData(10, 50, 100, 14, 30, 3)]
    [InlineData(10, 50, 100, 14, 30, 4)]
    [InlineData(10, 50, 100, 14, 30, 5)]
    [InlineData(10, 50, 100, 14, 30, 6)]
    public void Places_many_boats(int docks, int slipsPerDock, int arrivals, int days, int seconds, int seed)
    {
        var random = new Random(seed);
        var site = InventedMarina.Site(docks, slipsPerDock, random);
        var list = InventedMarina.List(site, arrivals, days, 0.4, random);
        var (workedBefore, began) = (Process.GetCurrentProcess().TotalProcessorTime, Stopwatch.GetTimestamp());
        (TimeSpan Took, TimeSpan Worked)? sagDone = null;
        (TimeSpan Took, TimeSpan Worked) Now() => (Stopwatch.GetElapsedTime(began), Process.GetCurrentProcess().TotalProcessorTime - workedBefore);
        var answer = Planner.Place(site, list, new(TimeSpan.FromSeconds(seconds), 1), progress: at =>
        {
            if (at is PlacementProgress.Rest)
                sagDone ??= Now();
        }, stop: TestContext.Current.CancellationToken);
        var (took, worked) = sagDone ?? Now();
        var proof = answer.Proof;
        output.WriteLine(FormattableString.Invariant(
            $"{docks * slipsPerDock} slips, {arrivals} arrivals, seed {seed}: sag searched for {took.TotalSeconds:0.0} s, {worked.TotalSeconds:0.0} s of processors: {proof.SagVolts:0.00} V, bound {proof.BoundVolts:0.00} V, gap {proof.SagVolts / proof.BoundVolts - 1:P1}, proven {proof.IsProven}, {proof.Rounds} rounds, {answer.Refused.Count} refused"));
        Assert.True(answer.Placed.Count + answer.Refused.Count == arrivals);
    }

    [Theory(Explicit = true)]
    [InlineData(1)]
    [InlineData(2)]
    public void Ranks_one_boat(int seed)
    {
        var random = new Random(seed);
        var site = InventedMarina.Site(10, 50, random);
        var list = InventedMarina.List(site, 1, 7, 0.4, random);
        for (var time = 0; time < 5; time++)
        {
            var began = Stopwatch.GetTimestamp();
            var ranked = Planner.Rank(site, list, list.Arrivals[0]);
            output.WriteLine(FormattableString.Invariant($"{ranked.Count} berths ranked in {Stopwatch.GetElapsedTime(began).TotalMilliseconds:0} ms"));
        }
    }
}
