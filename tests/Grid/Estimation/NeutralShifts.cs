using System.Numerics;
using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Tests.Estimation;

/// <summary>A line source–A–B–C worked by hand: each branch has 0.2 ohm in each leg and 0.4 ohm in the neutral, so z = 0.2/2 + 0.4 = 0.5 ohm.</summary>
public class NeutralShifts
{
    static readonly SupplySystem Supply = SupplySystem.SplitPhase120;
    static readonly string[] Cables = ["A", "B", "C"];

    [Fact]
    public void The_shift_is_the_weighted_mean_of_the_buses_beyond_and_the_cable_the_one_before_them()
    {
        var found = Find(NoLoad(), [], new("A", 0, 1), new("B", 10, 1), new("C", 13, 2));
        Assert.Equal(("A", "B"), (found.Branch.From, found.Branch.To));
        Assert.Equal((10 / 1.0 + 13 / 4.0) / (1 + 1 / 4.0), found.Volts.Real, 1e-9);
        Assert.Equal(1 / Math.Sqrt(1.25), found.SdVolts, 1e-9);
        Assert.Equal(2, found.BusesBeyond);
    }

    /// <summary>σ = 2 A at C behind three branches of 0.5 ohm: 3 V of doubt beside the meter's 4 V make 5 V.</summary>
    [Fact]
    public void Amps_that_are_not_known_are_doubt_about_the_shift() => Assert.Equal(
        5, Find(NoLoad(), new() { ["C"] = 2 }, new BusShift("C", 30, 4)).SdVolts, 1e-9);

    [Fact]
    public void Cables_with_the_same_buses_beyond_are_told_by_the_innermost() =>
        Assert.Equal("A", Find(NoLoad(), [], new BusShift("C", 30, 1)).Branch.To);

    /// <summary>12 A on L1 alone through 0.5 ohm too much: I_N = −12 A outwards, δ = 6 V towards L1, 72 W.</summary>
    [Fact]
    public void The_resistance_is_the_shift_by_the_neutral_amps()
    {
        var state = Sweep.Solve(new LoadSet(Line()).Add("C", Leg.L1, ZipLoad.ConstantCurrent(12, 1, 120))).State;
        var found = Find(state, new() { ["C"] = 0.01 }, new("B", 0, 0.6), new("C", 6, 0.6));
        Assert.Equal("C", found.Branch.To);
        Assert.Equal(-12, found.NeutralAmps.Real, 1e-6);
        Assert.Equal(found.Volts.Real / 12, found.LeastOhms, 1e-6);
        Assert.Equal(12 * found.Volts.Real, found.Watts, 1e-4);
        Assert.InRange(found.Volts.Real, 5.5, 6.1);
    }

    [Fact]
    public void Without_current_the_ohms_are_the_least_that_explain_the_shift_and_nothing_heats()
    {
        var found = Find(NoLoad(), new() { ["C"] = 2 }, new("B", 0, 0.6), new("C", 30, 0.6));
        Assert.Equal(0, found.Watts);
        Assert.Equal(found.Volts.Magnitude / 2, found.LeastOhms, 1e-9);
    }

    [Fact]
    public void Two_legs_show_half_their_difference_and_the_common_part_is_their_mean()
    {
        var (shift, common) = NeutralShift.OfResiduals(Supply, new PerLeg(-31, 29, double.NaN));
        Assert.Equal(30, shift.Real, 1e-12);
        Assert.Equal(-1, common, 1e-12);
    }

    [Fact]
    public void Three_legs_show_the_vector_of_which_they_are_projections()
    {
        var moved = new Complex(3, -4);
        var residuals = SupplySystem.Wye208.Legs.Aggregate(PerLeg.None, (all, leg) =>
            all.With(leg, 1.5 - (moved * Complex.Conjugate(SupplySystem.Wye208.Direction(leg))).Real));
        var (shift, common) = NeutralShift.OfResiduals(SupplySystem.Wye208, residuals);
        Assert.Equal(0, (shift - moved).Magnitude, 1e-12);
        Assert.Equal(1.5, common, 1e-12);
    }

    /// <summary>Own case worked by hand (no printed source found): |V1 − V2| = (I1 − I2)·(Z_leg + 2·Z_N), 16 A and 0.062 ohm: 2.976 V.</summary>
    [Fact]
    public void A_healthy_unbalance_is_as_computed_and_no_shift()
    {
        var feeder = new Feeder(Supply, "source", new PerLeg(120, 120, double.NaN), [new("source", "A", ImpedanceMatrix.Separate(Supply, 0.062, 0.062))]);
        var state = Sweep.Solve(new LoadSet(feeder)
            .Add("A", Leg.L1, ZipLoad.ConstantCurrent(40, 1, 120)).Add("A", Leg.L2, ZipLoad.ConstantCurrent(24, 1, 120))).State;
        var (volts1, volts2) = (state.VoltsAt("A", Leg.L1).Magnitude, state.VoltsAt("A", Leg.L2).Magnitude);
        Assert.Equal(2.976, volts2 - volts1, 1e-6);
        var (shift, _) = NeutralShift.OfResiduals(Supply, new PerLeg(116.528 - volts1, 119.504 - volts2, double.NaN));
        Assert.Equal(0, shift.Magnitude, 1e-6);
    }

    static NeutralShift Find(LoadFlowState state, Dictionary<string, double> doubtAmps, params BusShift[] shifts) =>
        NeutralShift.Find(state, shifts, doubtAmps, Cables)!;

    static LoadFlowState NoLoad() => Sweep.Solve(new LoadSet(Line())).State;

    static Feeder Line()
    {
        var branch = ImpedanceMatrix.Separate(Supply, 0.2, 0.4);
        return new(Supply, "source", new PerLeg(120, 120, double.NaN), [new("source", "A", branch), new("A", "B", branch), new("B", "C", branch)]);
    }
}
