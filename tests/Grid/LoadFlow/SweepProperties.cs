using System.Numerics;
using CsCheck;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Tests.LoadFlow;

public class SweepProperties
{
    static readonly StoppingRule Strict = new(1e-12, 500);

    [Fact]
    public void Power_from_the_source_is_what_the_loads_draw_and_the_cables_lose()
    {
        RandomFeeders.Any.Sample(random =>
        {
            var state = Solve(random.Loads());
            var feeder = state.Feeder;
            var source = feeder.Supply.Legs.Aggregate(Complex.Zero,
                (sum, leg) => sum + feeder.OpenCircuitVolts[(int)leg] * Complex.Conjugate(state.AmpsInto("source", leg)));
            var lost = feeder.Branches.Aggregate(Complex.Zero, (sum, branch) => sum + state.LossInto(branch.To));
            var drawn = random.Stated.Aggregate(Complex.Zero, (sum, load) => sum + Drawn(state, load));
            Assert.Equal(0, (source - lost - drawn).Magnitude / source.Magnitude, 1e-9);
            Assert.True(lost.Real > 0);
        }, iter: 60);
    }

    [Fact]
    public void Every_branch_obeys_Ohm_and_Kirchhoff_with_its_neutral()
    {
        RandomFeeders.Any.Sample(random =>
        {
            var state = Solve(random.Loads());
            foreach (var branch in state.Feeder.Branches)
                foreach (var leg in state.Feeder.Supply.Legs)
                {
                    var across = state.VoltsAt(branch.From, leg) - state.VoltsAt(branch.To, leg);
                    var along = state.DropInto(branch.To, leg) - state.DropInto(branch.To, Leg.N);
                    Assert.Equal(0, (across - along).Magnitude, 1e-7);
                }
        }, iter: 60);
    }

    /// <summary>From any start between half and twice the nominal volts the sweep ends in the same place.</summary>
    [Fact]
    public void The_solution_does_not_depend_on_the_start()
    {
        RandomFeeders.Any.Select(Gen.Double[0.5, 2]).Sample((random, factor) =>
        {
            var feeder = random.Feeder;
            var flat = Solve(random.Loads());
            var elsewhere = new LoadFlowState(feeder);
            var open = factor * feeder.Supply.NominalVolts;
            var raised = new Feeder(feeder.Supply, "source", new PerLeg(open, open, open), feeder.Branches);
            Sweep.Solve(new LoadSet(raised), elsewhere, Strict);
            Assert.True(Sweep.Resume(random.Loads(), elsewhere, Strict).Converged);
            foreach (var bus in feeder.Buses.Skip(1))
                foreach (var leg in feeder.Supply.Legs)
                    Assert.Equal(0, (flat.VoltsAt(bus, leg) - elsewhere.VoltsAt(bus, leg)).Magnitude, 1e-6);
        }, iter: 60);
    }

    [Fact]
    public void Constant_impedance_loads_scale_with_the_source()
    {
        RandomFeeders.Any.Sample(random =>
        {
            var supply = random.Feeder.Supply;
            LoadSet Build(double volts)
            {
                var feeder = new Feeder(supply, "source", new PerLeg(volts, volts, volts), random.Feeder.Branches);
                return new LoadSet(feeder).Add(feeder.Buses[^1], Leg.L1, ZipLoad.ConstantImpedance(new(1000, 300)));
            }
            var far = random.Feeder.Buses[^1];
            var ratio = Solve(Build(100)).VoltsAt(far, Leg.L1) / Solve(Build(50)).VoltsAt(far, Leg.L1);
            Assert.Equal(0, (ratio - 2).Magnitude, 1e-9);
        }, iter: 40);
    }

    static LoadFlowState Solve(LoadSet loads)
    {
        var result = Sweep.Solve(loads, new LoadFlowState(loads.Feeder), Strict);
        Assert.Equal(LoadFlowStatus.Converged, result.Status);
        return result.State;
    }

    /// <summary>VA by the load's own definition at the volts found between its terminals.</summary>
    static Complex Drawn(LoadFlowState state, StatedLoad stated)
    {
        var supply = state.Feeder.Supply;
        var towards = stated.To == Leg.N ? 0 : supply.Direction(stated.To);
        var nominalVolts = (supply.Direction(stated.From) - towards).Magnitude * supply.NominalVolts;
        return stated.Load.At(state.VoltsBetween(stated.Bus, stated.From, stated.To).Magnitude / nominalVolts);
    }
}
