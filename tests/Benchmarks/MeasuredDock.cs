using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Grid.Tests.Estimation;

namespace Farberth.Benchmarks;

/// <summary>A long dock, volts and amps measured at every pedestal and leg.</summary>
sealed class MeasuredDock
{
    const double AmpsSdOf = 0.1;

    public MeasuredDock(int pedestals)
    {
        var random = new Random(1);
        var dock = new LongDock(pedestals, random);
        About = Sweep.Solve(dock.Loads).State;
        Measured = new Measurements(dock.Feeder);
        foreach (var bus in dock.Feeder.Buses.Skip(1))
            foreach (var leg in dock.Feeder.Supply.Legs)
                AmpsSd[(bus, leg)] = 1e-4; // nothing is drawn at P0
        foreach (var pedestal in dock.Pedestals)
            foreach (var leg in dock.Feeder.Supply.Legs)
            {
                Volts[(pedestal, leg)] = (About.VoltsAt(pedestal, leg).Magnitude + random.NextDouble() - 0.5, 0.35);
                AmpsSd[(pedestal, leg)] = AmpsSdOf;
                Measured.SetVolts(pedestal, leg, Volts[(pedestal, leg)].Volts, Volts[(pedestal, leg)].Sd);
                Measured.SetAmps(pedestal, leg, About.AmpsDrawnAt(pedestal, leg).Magnitude, AmpsSdOf);
            }
    }

    public static EstimatorNoise Noise => EstimatorNoise.Usual(SupplySystem.SplitPhase120);

    public LoadFlowState About { get; }

    public Measurements Measured { get; }

    public Dictionary<(string Bus, Leg Leg), (double Volts, double Sd)> Volts { get; } = [];

    public Dictionary<(string Bus, Leg Leg), double> AmpsSd { get; } = [];
}
