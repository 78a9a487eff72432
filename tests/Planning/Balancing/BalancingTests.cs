using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Planning.Balancing;
using Farberth.Planning.Tests.Survey;

namespace Farberth.Planning.Tests.Balancing;

public class BalancingTests
{
    /// <summary>Everything hangs on L1: with two moves the volts that all others can bring are brought, as trying every pair of moves shows.</summary>
    [Fact]
    public void Two_moves_bring_what_the_best_pair_of_all_brings()
    {
        var history = Recorded.Of(240, (pedestal, outlet, minute) => outlet == "B" ? 0 : 8 + 2 * (pedestal[1] - '0') + minute / 60);
        var balance = LegBalancing.Of(Recorded.Site, history, 2, TimeSpan.FromSeconds(10), TestContext.Current.CancellationToken);
        var record = new LegRecord(Recorded.Site, history);
        var pairs = from one in new[] { 1, 2, 3, 4 } from other in new[] { 1, 2, 3, 4 } where one < other select new[] { one, other };
        var best = pairs.Max(pair => record.With([.. pair.Select(n => new LegMove($"R{n}", "A", LegList.Of([Leg.L1]), LegList.Of([Leg.L2])))]).LowestVolts);
        Assert.Equal(best, balance.Steps[1].After.LowestVolts, 0.03);
        Assert.NotNull(balance.Advised);
        Assert.True(balance.Steps[1].After.MeanNeutralAmps < balance.Before.MeanNeutralAmps);
        Assert.True(balance.Steps[1].After.LossKilowattHours < balance.Before.LossKilowattHours);
    }

    [Fact]
    public void A_balanced_dock_is_left_alone()
    {
        var history = Recorded.Of(120, (_, _, _) => 10);
        var balance = LegBalancing.Of(Recorded.Site, history, 3, TimeSpan.FromSeconds(5), TestContext.Current.CancellationToken);
        Assert.Null(balance.Advised);
        Assert.Equal(0, balance.Before.MostNeutralAmps, 0.3);
    }

    /// <summary>
    /// Handbook example (from memory, printed in many electricians' books): 100, 80 and 60 A on the legs of a wye leave
    /// √(A² + B² + C² − AB − BC − CA) = 34.6 A in the neutral.
    /// </summary>
    [Fact]
    public void The_neutral_of_unbalanced_legs_is_that_of_the_handbook()
    {
        var feeder = new Feeder(SupplySystem.Wye208, "source", new PerLeg(120, 120, 120), [new Branch("source", "panel", ImpedanceMatrix.Zero)]);
        var loads = new LoadSet(feeder);
        foreach (var (leg, amps) in new[] { (Leg.L1, 100.0), (Leg.L2, 80.0), (Leg.L3, 60.0) })
            loads.Add("panel", leg, ZipLoad.ConstantCurrent(amps, 1, 120));
        Assert.Equal(34.6, Sweep.Solve(loads).State.AmpsInto("panel", Leg.N).Magnitude, 0.05);
    }
}
