using System.Numerics;
using CsCheck;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Tests.LoadFlow;

/// <summary>One load as it was stated; <paramref name="To"/> is N for a load to the neutral.</summary>
sealed record StatedLoad(string Bus, Leg From, Leg To, ZipLoad Load);

sealed record RandomCase(Feeder Feeder, IReadOnlyList<StatedLoad> Stated)
{
    public LoadSet Loads(double factor = 1)
    {
        var loads = new LoadSet(Feeder);
        foreach (var (bus, from, to, load) in Stated)
            _ = to == Leg.N ? loads.Add(bus, from, load * factor) : loads.Add(bus, from, to, load * factor);
        return loads;
    }
}

/// <summary>Random trees of up to 500 buses on every supply, with mixed loads that they can carry.</summary>
static class RandomFeeders
{
    public static readonly Gen<RandomCase> Any =
        from supply in Gen.Int[0, SupplySystem.All.Count - 1].Select(at => SupplySystem.All[at])
        from buses in Gen.Int[1, 500]
        from seed in Gen.Int[0, int.MaxValue - 1]
        select Make(supply, buses, new Random(seed));

    static RandomCase Make(SupplySystem supply, int buses, Random random)
    {
        double Between(double low, double high) => low + (high - low) * random.NextDouble();
        string Bus(int at) => at == 0 ? "source" : $"B{at}";

        var branches = Enumerable.Range(1, buses).Select(at =>
        {
            var leg = new Complex(Between(0.5, 1), Between(0.2, 1)) * (0.02 / buses);
            var neutral = leg * Between(1, 2); // reduced neutrals too
            return new Branch(Bus(random.Next(Math.Max(0, at - 4), at)), Bus(at), ImpedanceMatrix.Separate(supply, leg, neutral));
        }).ToList();
        var open = supply.NominalVolts * Between(0.95, 1.05);
        var feeder = new Feeder(supply, "source", new PerLeg(open, open, open), branches);
        Complex VoltAmperes() => new Complex(Between(0, 1), Between(-0.1, 0.4)) * (20_000.0 / buses);
        return new(feeder, [.. feeder.Buses.Skip(1).SelectMany(bus => Some(bus, supply, VoltAmperes, random))]);
    }

    static IEnumerable<StatedLoad> Some(string bus, SupplySystem supply, Func<Complex> voltAmperes, Random random)
    {
        foreach (var leg in supply.Legs)
            yield return new(bus, leg, Leg.N, new(voltAmperes() * 0.3, voltAmperes() * 0.3, voltAmperes() * 0.4));
        if (supply.Legs.Count > 1 && random.Next(2) == 0)
            yield return new(bus, Leg.L2, Leg.L1, ZipLoad.ConstantPower(voltAmperes()));
        if (supply.IsThreePhase && random.Next(2) == 0)
            yield return new(bus, Leg.L3, Leg.L1, new(voltAmperes(), voltAmperes() * 0.5, voltAmperes()));
    }
}
