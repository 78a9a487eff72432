using CsCheck;
using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using System.Numerics;

namespace Farberth.Grid.Tests.Estimation;

/// <summary>A random tree with measured amps at every bus, measured volts at some, and the load flow of those amps.</summary>
sealed record EstimationCase(Feeder Feeder, Measurements Measured, LoadFlowState About, Dictionary<(string Bus, Leg Leg), (double Volts, double Sd)> Volts, Dictionary<(string Bus, Leg Leg), double> AmpsSd)
{
    public static readonly Gen<EstimationCase> Any =
        from supply in Gen.Int[0, SupplySystem.All.Count - 1].Select(at => SupplySystem.All[at])
        from buses in Gen.Int[1, 25]
        from seed in Gen.Int[0, int.MaxValue - 1]
        select Make(supply, buses, new Random(seed));

    static EstimationCase Make(SupplySystem supply, int buses, Random random)
    {
        double Between(double low, double high) => low + (high - low) * random.NextDouble();
        string Bus(int at) => at == 0 ? "source" : $"B{at}";
        var branches = Enumerable.Range(1, buses).Select(at => new Branch(Bus(random.Next(at)), Bus(at), ImpedanceMatrix.Separate(
            supply, new Complex(Between(0.5, 1), Between(0.2, 1)) * (0.05 / buses), new Complex(Between(0.5, 1), 0.3) * (0.08 / buses))));
        var feeder = new Feeder(supply, "source", new PerLeg(supply.NominalVolts, supply.NominalVolts, supply.NominalVolts), branches);
        var (loads, measured) = (new LoadSet(feeder), new Measurements(feeder));
        var (volts, ampsSd) = (new Dictionary<(string, Leg), (double, double)>(), new Dictionary<(string, Leg), double>());
        foreach (var bus in feeder.Buses.Skip(1))
            foreach (var leg in supply.Legs)
            {
                var (amps, sd) = (Between(1, 40), Between(0.05, 2));
                loads.Add(bus, leg, ZipLoad.ConstantCurrent(amps, Between(0.7, 1), supply.NominalVolts));
                measured.SetAmps(bus, leg, amps, sd);
                ampsSd[(bus, leg)] = sd;
            }
        var about = Sweep.Solve(loads).State;
        foreach (var bus in feeder.Buses.Skip(1).Where(_ => random.NextDouble() < 0.8))
            foreach (var leg in supply.Legs)
            {
                var (value, sd) = (about.VoltsAt(bus, leg).Magnitude + Between(-1, 1), Between(0.05, 0.8));
                measured.SetVolts(bus, leg, value, sd);
                volts[(bus, leg)] = (value, sd);
            }
        return new(feeder, measured, about, volts, ampsSd);
    }
}
