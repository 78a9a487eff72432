using System.Numerics;
using CsCheck;

namespace Farberth.HotAfternoon.Tests;

public class LadderTests
{
    static readonly Complex[] SplitPhase = [120, -120];
    static readonly Complex[,] Stiff = new Complex[2, 2];
    static readonly Tree TwoBus = new(["source", "P1"], [-1, 0], 3);

    [Fact]
    public void A_resistor_at_the_end_of_a_line_divides_the_volts()
    {
        // V = E·R_L/(R_L + R_line + R_neutral), R_L = 120²/2880 = 5 ohm, 0.1 ohm per conductor.
        var solution = Solve(0.1, new NodeLoad(1, 0, 2, 120, Demand.Resistive(2880)));
        Assert.Equal(120 * 5 / 5.2, solution.ToNeutral(1, 0).Magnitude, 8);
        Assert.Equal(120 / 5.2, solution.AmpsInto(1, 0).Magnitude, 8);
    }

    [Fact]
    public void Constant_power_at_the_end_of_a_line_solves_the_quadratic()
    {
        // V² − E·V + P·R = 0, R = 0.2 ohm out and back: the upper root.
        var solution = Solve(0.1, new NodeLoad(1, 0, 2, 120, Demand.Steady(2400, 1)));
        Assert.Equal((120 + Math.Sqrt(120 * 120 - 4 * 2400 * 0.2)) / 2, solution.ToNeutral(1, 0).Magnitude, 8);
    }

    // Own case worked by hand (no printed source found): 4 AWG copper in PVC, 0.31 ohm per 1,000 ft (NEC chapter 9,
    // table 9), 200 ft, 40 A on L1 and 24 A on L2 at power factor 1, full neutral.
    [Fact]
    public void Unequal_legs_shift_the_neutral()
    {
        var solution = Solve(
            0.31 * 0.2,
            new NodeLoad(1, 0, 2, 120, new Demand(0, 40 * 120, 0)),
            new NodeLoad(1, 1, 2, 120, new Demand(0, 24 * 120, 0)));
        Assert.Equal(16, solution.AmpsInto(1, 2).Magnitude, 8);
        Assert.Equal(116.528, solution.ToNeutral(1, 0).Magnitude, 3);
        Assert.Equal(119.504, solution.ToNeutral(1, 1).Magnitude, 3);
        Assert.Equal(236.032, solution.Between(1, 0, 1).Magnitude, 3);
    }

    // Ohm's law: without a neutral 240 V divides over 3 ohm and 5 ohm as 90 V and 150 V (own case).
    [Fact]
    public void An_open_neutral_divides_the_volts_by_the_loads()
    {
        var solution = new Ladder(TwoBus, SplitPhase, Stiff).Solve(
            [0, 0, 0, 0, 0, NeutralFaultPlan.OpenOhms],
            [new NodeLoad(1, 0, 2, 120, Impedance(120, 3)), new NodeLoad(1, 1, 2, 120, Impedance(120, 5))]);
        Assert.True(solution.Settled);
        Assert.Equal(90, solution.ToNeutral(1, 0).Magnitude, 3);
        Assert.Equal(150, solution.ToNeutral(1, 1).Magnitude, 3);
    }

    // Loads that hold their watts push against each other when the neutral is gone: one leg falls until they hold them no longer.
    // Whatever hangs on it, a few boats or a whole dock, the rounds settle; what one leg carries the other brings back (Kirchhoff's
    // current law), and loads that only take power raise no conductor above the source's volts.
    [Fact]
    public void A_neutral_of_any_ohms_settles_whatever_hangs_on_it()
    {
        var load = Gen.Select(Gen.Int[0, 2], Gen.Double[100, 3000], Gen.Double[0.7, 1], Gen.Int[0, 2]);
        Gen.Select(load.Array[2, 12], Gen.OneOf(Gen.Const(1), Gen.Const(12)), Gen.OneOf(Gen.Const(0.5), Gen.Const(3.0), Gen.Const(NeutralFaultPlan.OpenOhms))).Sample((some, boats, faultOhms) =>
        {
            var loads = Enumerable.Repeat(some, boats).SelectMany(all => all).ToArray();
            var tree = Row(loads.Length);
            var ohms = Enumerable.Repeat((Complex)(0.01 / boats), 3 * tree.Count).ToArray();
            ohms[3 + tree.Neutral] = faultOhms;
            var solution = new Ladder(tree, SplitPhase, Stiff).Solve(ohms, [.. loads.Select((l, index) => Load(index + 1, l))]);
            Assert.True(solution.Settled);
            Assert.All(solution.Volts, volts => Assert.InRange(volts.Magnitude, 0, 121));
            Assert.InRange(solution.AmpsInto(1, tree.Neutral).Magnitude, 0, 240 / faultOhms);
        }, iter: 1000);
    }

    // Two ways to the same volts: the ladder's rounds, and the elimination along the tree, which knows no rounds.
    [Fact]
    public void Impedances_are_solved_at_once_to_the_ladders_volts()
    {
        var load = Gen.Select(Gen.Int[0, 2], Gen.Double[100, 3000], Gen.Double[0.7, 1], Gen.Const(0));
        Gen.Select(load.Array[1, 12], Gen.Double[0, 1]).Sample((loads, faultOhms) =>
        {
            var tree = Row(loads.Length);
            var ohms = Enumerable.Repeat(new Complex(0.01, 0.003), 3 * tree.Count).ToArray();
            ohms[3 + tree.Neutral] += faultOhms;
            NodeLoad[] all = [.. loads.Select((l, index) => Load(index + 1, l))];
            var solution = new Ladder(tree, SplitPhase, Stiff).Solve(ohms, all);
            var impedances = new ImpedanceTree(tree);
            impedances.Inwards(all, it => Complex.Conjugate(it.Demand.ConstantImpedance) / (it.NominalVolts * it.NominalVolts), ohms);
            Complex[] volts = [120, -120, 0, .. new Complex[3 * loads.Length]];
            for (var node = 1; node < tree.Count; node++)
                for (var lane = 2; lane >= 0; lane--)
                    volts[3 * node + lane] = impedances.VoltsOf(node, lane, ohms, volts);
            Assert.All(volts.Zip(solution.Volts), pair => Assert.Equal(0, (pair.First - pair.Second).Magnitude, 1e-6));
        });
    }

    // Kersting, Distribution System Modeling and Analysis, example 11.1, as carried by GridLAB-D's test of the
    // centre-tapped transformer: 50 kVA, R 0.011, X 0.018 per unit; loads 1.4 + j0.5, 0.9 + j0.4 and 2.0 + j1.2 ohm.
    [Fact]
    public void The_centre_tapped_transformer_gives_Kerstings_volts_and_amps()
    {
        var z = new Complex(0.011, 0.018);
        var source = new Monitoring.Site.SourceDefinition(
            120, new Monitoring.Site.TransformerDefinition(50_000, z.Magnitude, 18.0 / 11), null, 1);
        var ladder = new Ladder(TwoBus, SplitPhase, SourceImpedance.Of(Grid.Network.SupplySystem.SplitPhase120, source));
        var solution = ladder.Solve(
            new Complex[6],
            [
                new NodeLoad(0, 0, 2, 120, Impedance(120, new Complex(1.4, 0.5))),
                new NodeLoad(0, 1, 2, 120, Impedance(120, new Complex(0.9, 0.4))),
                new NodeLoad(0, 0, 1, 240, Impedance(240, new Complex(2.0, 1.2))),
            ]);
        Assert.Equal(118.0, solution.ToNeutral(0, 0).Magnitude, 0.05);
        Assert.Equal(117.9, solution.ToNeutral(0, 1).Magnitude, 0.05);
        Assert.Equal(235.9, solution.Between(0, 0, 1).Magnitude, 0.05);
        Assert.Equal(179.6, solution.AmpsInto(0, 0).Magnitude, 0.05);
        Assert.Equal(220.4, solution.AmpsInto(0, 1).Magnitude, 0.05);
        Assert.Equal(-26.6, solution.AmpsInto(0, 0).Phase * 180 / Math.PI, 0.05);
        Assert.Equal(152.2, solution.AmpsInto(0, 1).Phase * 180 / Math.PI, 0.05);
        Assert.Equal(40.94, solution.AmpsInto(0, 2).Magnitude, 0.01);
        Assert.Equal(47_168.7, solution.Balance.Loads.Magnitude, 0.05);
        Assert.Equal(26.64, solution.Balance.Loads.Phase * 180 / Math.PI, 0.005);
    }

    [Fact]
    public void Source_power_is_loads_and_losses_on_random_trees()
    {
        var load = Gen.Select(Gen.Int[0, 2], Gen.Double[100, 3000], Gen.Double[0.7, 1], Gen.Int[0, 2]);
        var branch = Gen.Select(Gen.Double[0.0005, 0.01], Gen.Double[0, 0.003], Gen.Double[0, 1], load);
        branch.Array[1, 30].Sample(branches =>
        {
            int[] parents = [-1, .. branches.Select((b, index) => (int)(b.Item3 * index))];
            var tree = new Tree([.. parents.Select((_, node) => $"{node}")], parents, 3);
            Complex[] ohms = [0, 0, 0, .. branches.SelectMany(b => Enumerable.Repeat(new Complex(b.Item1, b.Item2), 3))];
            var solution = new Ladder(tree, SplitPhase, Stiff).Solve(
                ohms, [.. branches.Select((b, index) => Load(index + 1, b.Item4))]);
            var gap = solution.Balance.Source - solution.Balance.Loads - solution.Balance.Losses;
            Assert.True(solution.Settled);
            Assert.True(gap.Magnitude <= 1e-9 * solution.Balance.Source.Magnitude, $"{gap}");
            Assert.True(solution.Balance.Losses.Real > 0);
        });
    }

    [Fact]
    public void Asking_too_much_is_told_and_not_thrown()
    {
        var solution = Solve(2, new NodeLoad(1, 0, 2, 120, Demand.Steady(5000, 1)));
        Assert.True(double.IsFinite(solution.ToNeutral(1, 0).Magnitude));
        Assert.True(solution.ToNeutral(1, 0).Magnitude < 84 || !solution.Settled);
    }

    static Tree Row(int nodes)
    {
        int[] parents = [-1, .. Enumerable.Range(0, nodes)];
        return new([.. parents.Select((_, node) => $"{node}")], parents, 3);
    }

    internal static NodeLoad Load(int node, (int Pair, double Watts, double PowerFactor, int Kind) load)
    {
        var s = Demand.Lagging(load.Watts, load.PowerFactor);
        var demand = load.Kind switch { 0 => new Demand(s, 0, 0), 1 => new Demand(0, s, 0), _ => new Demand(0, 0, s) };
        return load.Pair == 2 ? new NodeLoad(node, 0, 1, 240, demand) : new NodeLoad(node, load.Pair, 2, 120, demand);
    }

    static Demand Impedance(double volts, Complex ohms) => new(volts * volts / Complex.Conjugate(ohms), 0, 0);

    static Solution Solve(double ohmsEach, params NodeLoad[] loads) =>
        new Ladder(TwoBus, SplitPhase, Stiff).Solve([0, 0, 0, ohmsEach, ohmsEach, ohmsEach], loads);
}
