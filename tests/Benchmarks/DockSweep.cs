using System.Numerics;
using BenchmarkDotNet.Attributes;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

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
        var random = new Random(1);
        var spanMetres = 180.0 / Pedestals;
        var span = ImpedanceMatrix.Separate(SupplySystem.SplitPhase120, new(0.2e-3, 0.13e-3), new(0.2e-3, 0.13e-3)) * spanMetres;
        var transformer = SourceImpedance.Transformer(SupplySystem.SplitPhase120, 100e3, 0.025, 1.5);
        var branches = new List<Branch> { new("source", "P0", transformer) };
        for (var p = 1; p <= Pedestals; p++)
            branches.Add(new($"P{p - 1}", $"P{p}", span));
        var feeder = new Feeder(SupplySystem.SplitPhase120, "source", new PerLeg(122, 122, double.NaN), branches);
        loads = new LoadSet(feeder);
        for (var p = 1; p <= Pedestals; p++)
            foreach (var leg in feeder.Supply.Legs)
            {
                var voltAmperes = new Complex(0.95, 0.3) * (400 + 800 * random.NextDouble()) * 60 / Pedestals;
                loads.Add($"P{p}", leg, new ZipLoad(voltAmperes * 0.2, voltAmperes * 0.3, voltAmperes * 0.5));
            }
        state = new LoadFlowState(feeder);
        var result = Solve();
        var far = state.VoltsAt($"P{Pedestals}", Leg.L1).Magnitude;
        Console.WriteLine($"// {result}, far end {far:F2} V");
    }

    [Benchmark]
    public LoadFlowResult Solve() => Sweep.Solve(loads, state, StoppingRule.Usual);
}
