using System.Numerics;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Tests.LoadFlow;

/// <summary>Cases that can be worked out on paper.</summary>
public class HandCases
{
    static readonly SupplySystem Split = SupplySystem.SplitPhase120;

    /// <summary>
    /// 4 AWG copper in PVC, 200 ft, R 0.31 and X 0.048 ohm per 1000 ft (NEC chapter 9 table 9). On paper:
    /// legs drop 40·0.062 = 2.480 V and 24·0.062 = 1.488 V, the neutral 16·0.062 = 0.992 V.
    /// </summary>
    [Fact]
    public void The_lighter_leg_of_a_three_wire_feeder_gains_what_the_neutral_loses()
    {
        var state = ThreeWire(new Complex(0.31, 0), powerFactor: 1);
        Assert.Equal(116.528, state.VoltsAt("end", Leg.L1).Magnitude, 0.0005);
        Assert.Equal(119.504, state.VoltsAt("end", Leg.L2).Magnitude, 0.0005);
        Assert.Equal(236.032, state.VoltsBetween("end", Leg.L1, Leg.L2).Magnitude, 0.0005);
        Assert.Equal(0.992, state.DropInto("end", Leg.N).Magnitude, 0.0005);
        Assert.Equal(16, state.AmpsInto("end", Leg.N).Magnitude, 0.0005);
    }

    /// <summary>The angle of the amps is against the volts at the load, so the paper's figures hold to a few millivolts.</summary>
    [Fact]
    public void The_same_feeder_at_a_power_factor_of_nine_tenths()
    {
        var state = ThreeWire(new Complex(0.31, 0.048), powerFactor: 0.9);
        Assert.Equal(116.645, state.VoltsAt("end", Leg.L1).Magnitude, 0.03);
        Assert.Equal(119.520, state.VoltsAt("end", Leg.L2).Magnitude, 0.03);
        Assert.Equal(236.164, state.VoltsBetween("end", Leg.L1, Leg.L2).Magnitude, 0.03);
    }

    [Fact]
    public void Equal_legs_leave_the_neutral_idle_and_one_leg_alone_drops_twice()
    {
        var feeder = Line(Split, new Complex(0.05, 0.01), new Complex(0.05, 0.01));
        var equal = Solve(new LoadSet(feeder).Add("end", Leg.L1, Amps(30)).Add("end", Leg.L2, Amps(30)));
        Assert.Equal(0, equal.AmpsInto("end", Leg.N).Magnitude, 1e-6);
        var alone = Solve(new LoadSet(feeder).Add("end", Leg.L1, Amps(30)));
        var lost = (alone.VoltsAt("source", Leg.L1) - alone.VoltsAt("end", Leg.L1)).Magnitude;
        Assert.Equal(2 * 30 * new Complex(0.05, 0.01).Magnitude, lost, 1e-6);
    }

    /// <summary>With no neutral, 3 ohm and 5 ohm in series divide 240 V into 90 V and 150 V.</summary>
    [Fact]
    public void An_open_neutral_divides_the_volts_by_the_loads()
    {
        var feeder = Line(Split, new Complex(1e-9, 0), new Complex(1e9, 0));
        var state = Solve(new LoadSet(feeder).Add("end", Leg.L1, Leg.L2, ZipLoad.OfOhms(8, 240)));
        var amps = state.AmpsInto("end", Leg.L1).Magnitude;
        Assert.Equal(90, amps * 3, 1e-4);
        Assert.Equal(150, amps * 5, 1e-4);
    }

    [Fact]
    public void A_load_between_two_legs_of_three_draws_the_same_amps_from_both_and_none_from_the_third()
    {
        var feeder = Line(SupplySystem.Wye208, new Complex(0.02, 0.01), new Complex(0.02, 0.01));
        var state = Solve(new LoadSet(feeder).Add("end", Leg.L3, Leg.L1, ZipLoad.ConstantPower(new(5000, 1000))));
        Assert.Equal(0, (state.AmpsInto("end", Leg.L3) + state.AmpsInto("end", Leg.L1)).Magnitude, 1e-9);
        Assert.Equal(0, state.AmpsInto("end", Leg.L2).Magnitude, 1e-9);
        Assert.Equal(5000, state.VoltAmperesInto("end").Real, 1e-4);
        Assert.Equal(1000, state.VoltAmperesInto("end").Imaginary, 1e-4);
    }

    [Fact]
    public void A_balanced_three_phase_load_drops_the_single_conductor_alone()
    {
        var feeder = Line(SupplySystem.Wye400, new Complex(0.1, 0), new Complex(0.4, 0));
        var state = Solve(new LoadSet(feeder).AddThreePhase("end", ZipLoad.ConstantCurrent(3 * 20, 1, 230)));
        foreach (var leg in SupplySystem.Wye400.Legs)
            Assert.Equal(230 - 20 * 0.1, state.VoltsAt("end", leg).Magnitude, 1e-6);
    }

    /// <summary>E²/4R is the most that a resistive line passes on to a constant-power load: 230² / (4·1) = 13 225 W.</summary>
    [Theory]
    [InlineData(0.999)]
    [InlineData(1.001)]
    [InlineData(1.2)]
    [InlineData(2.5)]
    public void Past_the_most_that_a_line_can_carry_there_is_no_solution_and_it_says_how_far_past(double timesTheMost)
    {
        var feeder = Line(SupplySystem.SinglePhase230, new Complex(0.5, 0), new Complex(0.5, 0));
        var loads = new LoadSet(feeder).Add("end", Leg.L1, ZipLoad.ConstantPower(timesTheMost * 13_225));
        var result = Sweep.Solve(loads, new LoadFlowState(feeder), StoppingRule.Usual with { MaxIterations = 1000 });
        if (timesTheMost < 1)
        {
            Assert.True(result.Converged);
            return;
        }
        Assert.Equal(LoadFlowStatus.NoSolution, result.Status);
        Assert.Equal(timesTheMost - 1, result.ShareTooMuch, 0.002);
        Assert.Equal(("end", Leg.L1), result.Weakest);
        Assert.StartsWith("no solution", result.ToString());
    }

    [Fact]
    public void Too_few_iterations_are_told_apart_from_no_solution()
    {
        var feeder = Line(SupplySystem.SinglePhase230, new Complex(0.5, 0), new Complex(0.5, 0));
        var loads = new LoadSet(feeder).Add("end", Leg.L1, ZipLoad.ConstantPower(8000));
        var result = Sweep.Solve(loads, new LoadFlowState(feeder), new StoppingRule(1e-12, 3));
        Assert.Equal(LoadFlowStatus.IterationLimit, result.Status);
        Assert.Equal(3, result.Iterations);
    }

    [Fact]
    public void A_solve_allocates_nothing()
    {
        var feeder = Line(Split, new Complex(0.05, 0.01), new Complex(0.05, 0.01));
        var loads = new LoadSet(feeder).Add("end", Leg.L1, ZipLoad.ConstantPower(2000)).Add("end", Leg.L1, Leg.L2, Amps(10));
        var state = new LoadFlowState(feeder);
        Sweep.Solve(loads, state, StoppingRule.Usual);
        var before = GC.GetAllocatedBytesForCurrentThread();
        var result = Sweep.Solve(loads, state, StoppingRule.Usual);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.True(result.Converged);
    }

    static LoadFlowState ThreeWire(Complex ohmsPerKilofoot, double powerFactor)
    {
        var feeder = Line(Split, ohmsPerKilofoot * 0.2, ohmsPerKilofoot * 0.2);
        return Solve(new LoadSet(feeder)
            .Add("end", Leg.L1, ZipLoad.ConstantCurrent(40, powerFactor, 120))
            .Add("end", Leg.L2, ZipLoad.ConstantCurrent(24, powerFactor, 120)));
    }

    static Feeder Line(SupplySystem supply, Complex leg, Complex neutral) => new(
        supply, "source", new PerLeg(supply.NominalVolts, supply.NominalVolts, supply.NominalVolts),
        [new Branch("source", "end", ImpedanceMatrix.Separate(supply, leg, neutral))]);

    static ZipLoad Amps(double amps) => ZipLoad.ConstantCurrent(amps, 1, 120);

    static LoadFlowState Solve(LoadSet loads)
    {
        var result = Sweep.Solve(loads, new LoadFlowState(loads.Feeder), new StoppingRule(1e-12, 500));
        Assert.True(result.Converged);
        return result.State;
    }
}
