using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Grid.Tests.Conductors;

namespace Farberth.Grid.Tests.WorkedExamples;

/// <summary>The printed examples again, from site-file conductor to volts, through the load flow.</summary>
public class DropByLoadFlowTests
{
    public static TheoryData<PrintedDropExample> Examples => [.. PrintedDropExamples.All];

    [Theory]
    [MemberData(nameof(Examples), DisableDiscoveryEnumeration = true)]
    public void The_load_flow_gives_the_printed_drop(PrintedDropExample example)
    {
        var state = Solve(example);
        var (from, to) = example.Loading == DropLoading.LegToNeutral ? (Leg.L1, Leg.N) : (Leg.L1, Leg.L2);
        var before = state.VoltsBetween("source", from, to).Magnitude;
        var drop = before - state.VoltsBetween("end", from, to).Magnitude;
        Assert.Equal(example.PrintedVolts, drop, example.ToleranceVolts + Quadrature(state, before, from, to));
    }

    /// <summary>The hand formula leaves out the part of the drop across the volts: q²/2V.</summary>
    static double Quadrature(LoadFlowState state, double before, Leg from, Leg to)
    {
        var turn = state.VoltsBetween("end", from, to).Phase - state.VoltsBetween("source", from, to).Phase;
        return before * (1 - Math.Cos(turn)) + 1e-9;
    }

    static LoadFlowState Solve(PrintedDropExample example)
    {
        var conductor = Parsed.Conductor(example.ConductorText);
        var cable = CableImpedance.Of(example.Supply, conductor, conductor, example.Raceway, example.LengthMetres,
            sets: 1, example.ConductorCelsius, example.ConductorCelsius);
        var volts = example.Supply.NominalVolts;
        var feeder = new Feeder(example.Supply, "source", new PerLeg(volts, volts, volts), [new Branch("source", "end", cable)]);
        ZipLoad Amps(double amps, double between) => ZipLoad.ConstantCurrent(amps, example.PowerFactor, between);
        var loads = example.Loading switch
        {
            DropLoading.LegToNeutral => new LoadSet(feeder).Add("end", Leg.L1, Amps(example.Amps, volts)),
            DropLoading.LegToLeg => new LoadSet(feeder).Add("end", Leg.L1, Leg.L2, Amps(example.Amps, 2 * volts)),
            _ => new LoadSet(feeder).AddThreePhase("end", Amps(3 * example.Amps, volts)),
        };
        return Sweep.Solve(loads).State;
    }
}
