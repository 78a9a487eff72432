using BenchmarkDotNet.Attributes;
using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Benchmarks;

/// <summary>One estimate with every standard deviation: a 120/240 V dock, volts and amps measured at every pedestal.</summary>
[MemoryDiagnoser]
public class DockEstimate
{
    StateEstimator estimator = null!;
    Measurements measured = null!;
    LoadFlowState about = null!;

    [Params(60, 600, 10_000)]
    public int Pedestals { get; set; }

    [GlobalSetup]
    public void Build()
    {
        var random = new Random(1);
        var span = ImpedanceMatrix.Separate(SupplySystem.SplitPhase120, new(0.2e-3, 0.13e-3), new(0.2e-3, 0.13e-3)) * (180.0 / Pedestals);
        var branches = Enumerable.Range(1, Pedestals).Select(p => new Branch($"P{p - 1}", $"P{p}", span));
        var feeder = new Feeder(SupplySystem.SplitPhase120, "P0", new PerLeg(122, 122, double.NaN), branches);
        var loads = new LoadSet(feeder);
        measured = new Measurements(feeder);
        foreach (var bus in feeder.Buses.Skip(1))
            foreach (var leg in feeder.Supply.Legs)
            {
                var amps = (3 + 7 * random.NextDouble()) * 60 / Pedestals;
                loads.Add(bus, leg, ZipLoad.ConstantCurrent(amps, 0.95, 120));
                measured.SetAmps(bus, leg, amps, 0.1);
            }
        about = Sweep.Solve(loads).State;
        foreach (var bus in feeder.Buses.Skip(1))
            foreach (var leg in feeder.Supply.Legs)
                measured.SetVolts(bus, leg, about.VoltsAt(bus, leg).Magnitude + random.NextDouble() - 0.5, 0.35);
        estimator = new StateEstimator(feeder, EstimatorNoise.Usual(feeder.Supply));
    }

    [Benchmark]
    public FeederEstimate Run() => estimator.Run(measured, about);
}
