using BenchmarkDotNet.Attributes;
using Farberth.Grid.Estimation;
using Farberth.Grid.Tests.Estimation;

namespace Farberth.Benchmarks;

/// <summary>One estimate with every standard deviation: a 120/240 V dock, volts and amps measured at every pedestal.</summary>
[MemoryDiagnoser, MedianColumn]
public class DockEstimate
{
    StateEstimator estimator = null!;
    MeasuredDock dock = null!;

    [Params(60, 600, 10_000)]
    public int Pedestals { get; set; }

    [GlobalSetup]
    public void Build()
    {
        dock = new MeasuredDock(Pedestals);
        estimator = new StateEstimator(dock.About.Feeder, MeasuredDock.Noise);
    }

    [Benchmark]
    public FeederEstimate AlongTheTree() => estimator.Run(dock.Measured, dock.About);
}

/// <summary>
/// The same estimate by dense normal equations with MathNet.Numerics, means and covariances. The rows are made beforehand.
/// For 600 pedestals it would invert 2406 × 2406.
/// </summary>
[MemoryDiagnoser, MedianColumn]
public class DockEstimateDense
{
    DenseReference dense = null!;

    [Params(60)]
    public int Pedestals { get; set; }

    [GlobalSetup]
    public void Build()
    {
        var dock = new MeasuredDock(Pedestals);
        dense = new DenseReference(dock.About, MeasuredDock.Noise, dock.Volts, dock.AmpsSd);
    }

    [Benchmark]
    public object AtOnce() => dense.Solve();
}
