using Farberth.Planning.Placement;

namespace Farberth.Planning.Tests.Placement;

/// <summary>Whole seasons of guests, invented by a seed: planned, and first come, first served.</summary>
public class SeasonsTests(ITestOutputHelper output)
{
    [Theory]
    [InlineData(21)]
    [InlineData(22)]
    public void A_planned_fortnight_sags_less_by_a_quarter_and_refuses_nobody_more(int seed)
    {
        var (planned, first) = Season(seed, 3, 20, 24, 14, 3);
        Assert.True(planned.Sag <= 0.75 * first.Sag, $"{planned.Sag:0.00} V, first come {first.Sag:0.00} V");
        Assert.True(planned.Refused <= first.Refused);
    }

    /// <summary>
    /// The figures of docs/algorithms/planning-placement.md. By hand, in the output folder:
    /// ./Farberth.Planning.Tests -explicit only -showLiveOutput -class Farberth.Planning.Tests.Placement.SeasonsTests
    /// </summary>
    [Theory(Explicit = true)]
    [InlineData(31)]
    [InlineData(32)]
    [InlineData(33)]
    [InlineData(34)]
    [InlineData(35)]
    public void Larger_marinas(int seed)
    {
        var (planned, first) = Season(seed, 4, 50, 40, 14, 20);
        output.WriteLine(FormattableString.Invariant(
            $"seed {seed}: sag {planned.Sag:0.00} V planned, {first.Sag:0.00} V first come, {1 - planned.Sag / first.Sag:P0} less; refused {planned.Refused} and {first.Refused}"));
        Assert.True(planned.Refused <= first.Refused);
    }

    /// <summary>Sag: what the load makes of the no-load volts in the worst hour, by the full load flow.</summary>
    static ((double Sag, int Refused) Planned, (double Sag, int Refused) First) Season(int seed, int docks, int slips, int guests, int days, double seconds)
    {
        var random = new Random(seed);
        var site = InventedMarina.Site(docks, slips, random);
        var list = InventedMarina.List(site, guests, days, 0, random);
        var problem = new PlacementProblem(site, list);
        var first = PlanCheck.Of(problem, FirstCome.Of(problem));
        var answer = InventedMarina.Placed(site, list, seconds);
        return ((answer.Proof.SagVolts, answer.Refused.Count), (first.SagVolts(problem), problem.Guests.Count - first.Plan.Berths.Count));
    }
}
