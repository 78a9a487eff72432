using System.Numerics;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Tests.Estimation;

/// <summary>
/// A 120/240 V dock of 180 m behind 100 kVA: an unbalanced load on each leg of every pedestal, half constant power and half
/// mixed, about 9 % lost at the far end. The same 72 kVA whatever the number of pedestals; 60 is a large dock.
/// </summary>
sealed class LongDock
{
    public LongDock(int pedestals, Random random)
    {
        var supply = SupplySystem.SplitPhase120;
        var span = ImpedanceMatrix.Separate(supply, new(0.2e-3, 0.13e-3), new(0.2e-3, 0.13e-3)) * (180.0 / pedestals);
        var branches = Enumerable.Range(1, pedestals).Select(p => new Branch($"P{p - 1}", $"P{p}", span));
        Feeder = new Feeder(supply, "source", new PerLeg(122, 122, double.NaN),
            [new("source", "P0", SourceImpedance.Transformer(supply, 100e3, 0.025, 1.5)), .. branches]);
        Loads = new LoadSet(Feeder);
        Pedestals = [.. Enumerable.Range(1, pedestals).Select(p => $"P{p}")];
        foreach (var pedestal in Pedestals)
            foreach (var leg in supply.Legs)
            {
                var voltAmperes = new Complex(0.95, 0.3) * (400 + 800 * random.NextDouble()) * 60 / pedestals;
                Loads.Add(pedestal, leg, new ZipLoad(voltAmperes * 0.2, voltAmperes * 0.3, voltAmperes * 0.5));
            }
    }

    public Feeder Feeder { get; }

    public LoadSet Loads { get; }

    public IReadOnlyList<string> Pedestals { get; }

    /// <summary>Volt-amperes that a pedestal draws from a leg.</summary>
    public static Complex Drawn(LoadFlowState state, string pedestal, Leg leg) =>
        state.VoltsAt(pedestal, leg) * Complex.Conjugate(state.AmpsDrawnAt(pedestal, leg));
}
