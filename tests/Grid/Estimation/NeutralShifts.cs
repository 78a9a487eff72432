using System.Numerics;
using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Tests.Estimation;

/// <summary>A line source–A–B–C worked by hand: each branch has 0.2 ohm in each leg and 0.4 ohm in the neutral.</summary>
public class NeutralShifts
{
    static readonly SupplySystem Supply = SupplySystem.SplitPhase120;
    static readonly string[] Cables = ["A", "B", "C"];

    /// <summary>
    /// Legs −δ and +δ, each with its own σ, so δ has σ/√2. The supply is the same on both legs and does not show in δ.
    /// </summary>
    [Fact]
    public void The_shift_is_the_weighted_mean_of_the_buses_beyond_and_the_cable_the_one_before_them()
    {
        var found = Find(NoLoad(), [], Shifted("A", 0, 1), Shifted("B", 10, 1), Shifted("C", 13, 2));
        Assert.Equal(("A", "B"), (found.Branch.From, found.Branch.To));
        Assert.Equal((10 / 1.0 + 13 / 4.0) / (1 + 1 / 4.0), found.Volts.Real, 1e-9);
        Assert.Equal(1 / Math.Sqrt(2 * 1.25), found.SdVolts, 1e-9);
        Assert.Equal(2, found.BusesBeyond);
    }

    /// <summary>
    /// Three branches of 0.2 and 0.4 ohm: an ampere on L1 at C takes 1.8 V from L1 and gives 1.2 V to L2 there, so its δ is 1.5 V and both legs
    /// fall by 0.3 V. With an unknown supply the legs' mean says nothing, and σ = 2 A makes 3 V of doubt beside the meter's 4 V/√2.
    /// </summary>
    [Fact]
    public void Amps_that_are_not_known_are_doubt_about_the_shift() => Assert.Equal(
        Math.Sqrt(9 + 8), Find(NoLoad(), [], Shifted("C", 30, 4, lastingAmps: 2)).SdVolts, 0.02);

    /// <summary>The same 10 A unknown at C: what they do at C they do at B too, by two parts of three, and in the sum of the legs.</summary>
    [Fact]
    public void A_load_that_nobody_told_of_is_no_neutral()
    {
        BusResiduals OfLoad(string bus, double ohms, double amps) => Reading(
            bus, new(-3 * ohms * amps, 2 * ohms * amps, double.NaN), 0.3, lastingAmps: 12);
        var load = Find(NoLoad(), [], OfLoad("A", 0.2, 20), OfLoad("B", 0.4, 20), OfLoad("C", 0.6, 20));
        var neutral = Find(NoLoad(), [], Shifted("A", 0, 0.3, 12), Shifted("B", 10, 0.3, 12), Shifted("C", 10, 0.3, 12));
        Assert.True(load.Volts.Magnitude < 3 * load.SdVolts);
        Assert.Equal("B", neutral.Branch.To);
        Assert.True(neutral.Volts.Magnitude > 10 * neutral.SdVolts);
    }

    /// <summary>
    /// The ampere above: 1.5 V of shift for 0.3 V of the mean. On three legs it takes (0.2 + 0.4)·3 = 1.8 V and gives 1.2·½ = 0.6 V to each
    /// other: shift ⅔·(1.8 + 0.6) = 1.6 V, mean (1.8 − 1.2)/3 = 0.2 V. Worked by hand.
    /// </summary>
    [Fact]
    public void A_load_on_one_leg_moves_the_neutral_point_and_lowers_the_mean()
    {
        Assert.Equal(1.5 / 0.3, new SharedDrops(Line(Supply)).ShiftPerFall("C"), 1e-9);
        Assert.Equal(1.6 / 0.2, new SharedDrops(Line(SupplySystem.Wye208)).ShiftPerFall("C"), 1e-9);
    }

    /// <summary>12 A on L1 lift the neutral towards L1; a shift the other way is none that more ohms could make.</summary>
    [Fact]
    public void A_shift_against_the_current_is_no_neutrals_doing()
    {
        var state = Sweep.Solve(new LoadSet(Line(Supply)).Add("C", Leg.L1, ZipLoad.ConstantCurrent(12, 1, 120))).State;
        Assert.Null(NeutralShift.Find(state, new SharedDrops(state.Feeder), [Shifted("B", 0, 0.6), Shifted("C", -6, 0.6)], new Dictionary<string, double> { ["C"] = 0.01 }, ["C"]));
    }

    [Fact]
    public void Cables_with_the_same_buses_beyond_are_told_by_the_innermost() =>
        Assert.Equal("A", Find(NoLoad(), [], Shifted("C", 30, 1)).Branch.To);

    /// <summary>12 A on L1 alone through 0.5 ohm too much: I_N = −12 A outwards, δ = 6 V towards L1, 72 W.</summary>
    [Fact]
    public void The_resistance_is_the_shift_by_the_neutral_amps()
    {
        var state = Sweep.Solve(new LoadSet(Line(Supply)).Add("C", Leg.L1, ZipLoad.ConstantCurrent(12, 1, 120))).State;
        var found = Find(state, new() { ["C"] = 0.01 }, Shifted("B", 0, 0.6), Shifted("C", 6, 0.6));
        Assert.Equal("C", found.Branch.To);
        Assert.Equal(-12, found.NeutralAmps.Real, 1e-6);
        Assert.Equal(found.Volts.Real / 12, found.LeastOhms, 1e-6);
        Assert.Equal(12 * found.Volts.Real, found.Watts, 1e-4);
        Assert.InRange(found.Volts.Real, 5.5, 6.1);
    }

    [Fact]
    public void Without_current_the_ohms_are_the_least_that_explain_the_shift_and_nothing_heats()
    {
        var found = Find(NoLoad(), new() { ["C"] = 2 }, Shifted("B", 0, 0.6), Shifted("C", 30, 0.6));
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

    static NeutralShift Find(LoadFlowState state, Dictionary<string, double> doubtAmps, params BusResiduals[] readings) =>
        NeutralShift.Find(state, new SharedDrops(state.Feeder), readings, doubtAmps, Cables)!;

    /// <summary>Leg 1 falls as leg 2 rises.</summary>
    static BusResiduals Shifted(string bus, double volts, double sd, double lastingAmps = 0) =>
        Reading(bus, new(-volts, volts, double.NaN), sd, lastingAmps);

    /// <param name="lastingAmps">σ of the load on L1 at C.</param>
    static BusResiduals Reading(string bus, PerLeg residuals, double sd, double lastingAmps) =>
        new(bus, default, residuals, sd, new([0, 0, 0, 0, 0, 0, lastingAmps, 0], []));

    static LoadFlowState NoLoad() => Sweep.Solve(new LoadSet(Line(Supply))).State;

    static Feeder Line(SupplySystem supply)
    {
        var branch = ImpedanceMatrix.Separate(supply, 0.2, 0.4);
        return new(supply, "source", supply.Legs.Aggregate(PerLeg.None, (all, leg) => all.With(leg, 120)), [new("source", "A", branch), new("A", "B", branch), new("B", "C", branch)]);
    }
}
