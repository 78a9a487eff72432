using BenchmarkDotNet.Attributes;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Grid.Tests.Estimation;

namespace Farberth.Benchmarks;

/// <summary>
/// One load flow from a flat start to 1e-8 of the nominal volts: a 120/240 V dock with an unbalanced load on each leg
/// of every pedestal, half constant power and half mixed, about 9 % lost at the far end. 60 pedestals is a large dock;
/// the longer ones show that the cost is linear.
/// </summary>
[MemoryDiagnoser]
public class DockSweep
{
    LoadSet loads = null!;
    LoadFlowState state = null!;

    [Params(60, 600, 10_000)]
    public int Pedestals { get; set; }

    [GlobalSetup]
    public void Build()
    {
        loads = new LongDock(Pedestals, new Random(1)).Loads;
        state = new LoadFlowState(loads.Feeder);
        var result = Solve();
        var far = state.VoltsAt($"P{Pedestals}", Leg.L1).Magnitude;
        Console.WriteLine($"// {result}, far end {far:F2} V");
    }

    [Benchmark]
    public LoadFlowResult Solve() => Sweep.Solve(loads, state, StoppingRule.Usual);
}
