using System.Runtime.CompilerServices;
using Farberth.Grid.Network;

namespace Farberth.Grid.LoadFlow;

/// <summary>The loads on a feeder's buses. Loads between the same terminals add up.</summary>
public sealed class LoadSet
{
    readonly ZipLanes[] legToNeutral;
    ZipLanes[]? legToLeg; // many docks have no such load
    readonly bool[] hasLegToLeg;
    readonly int legs;

    public LoadSet(Feeder feeder)
    {
        Feeder = feeder;
        legs = feeder.Supply.Legs.Count;
        legToNeutral = new ZipLanes[feeder.Buses.Count];
        hasLegToLeg = new bool[feeder.Buses.Count];
    }

    LoadSet(LoadSet other, Feeder feeder)
        : this(feeder)
    {
        other.legToNeutral.CopyTo(legToNeutral, 0);
        legToLeg = other.legToLeg?.ToArray();
        other.hasLegToLeg.CopyTo(hasLegToLeg, 0);
    }

    public Feeder Feeder { get; }

    /// <summary>Adds a load from one leg to the neutral.</summary>
    /// <exception cref="KeyNotFoundException">No bus of that name.</exception>
    public LoadSet Add(string bus, Leg leg, ZipLoad load) => Add(Feeder[bus], leg, load);

    /// <param name="bus">Its position in the feeder.</param>
    public LoadSet Add(int bus, Leg leg, ZipLoad load)
    {
        if ((int)leg >= legs)
            throw new ArgumentException($"{Feeder.Supply} has no {leg}");
        legToNeutral[bus].Add((int)leg, load, Feeder.Supply.NominalVolts);
        return this;
    }

    /// <summary>Adds a load between two legs.</summary>
    /// <exception cref="KeyNotFoundException">No bus of that name.</exception>
    public LoadSet Add(string bus, Leg from, Leg to, ZipLoad load) => Add(Feeder[bus], from, to, load);

    /// <param name="bus">Its position in the feeder.</param>
    public LoadSet Add(int bus, Leg from, Leg to, ZipLoad load)
    {
        var supply = Feeder.Supply;
        if (from == to || (int)from >= legs || (int)to >= legs)
            throw new ArgumentException($"{supply} has no pair {from}–{to}");
        var nominalVolts = supply.NominalVolts * (supply.Direction(from) - supply.Direction(to)).Magnitude;
        legToLeg ??= new ZipLanes[Feeder.Buses.Count];
        legToLeg[bus].Add(PairLane(from, to), load, nominalVolts);
        hasLegToLeg[bus] = true;
        return this;
    }

    /// <summary>Lanes are L1–L2, L2–L3, L3–L1; on two legs only the first.</summary>
    int PairLane(Leg from, Leg to) =>
        legs == 2 ? 0 : ((int)from + 1) % legs == (int)to ? (int)from : (int)to;

    /// <summary>Adds a balanced three-phase load, a third of it on each leg.</summary>
    /// <exception cref="KeyNotFoundException">No bus of that name.</exception>
    public LoadSet AddThreePhase(string bus, ZipLoad total)
    {
        foreach (var leg in Feeder.Supply.Legs)
            Add(bus, leg, total * (1.0 / legs));
        return this;
    }

    /// <summary>The same loads with other volts behind the feeder.</summary>
    /// <param name="openCircuitVolts">Leg to neutral, RMS.</param>
    public LoadSet At(PerLeg openCircuitVolts) => new(this, Feeder.At(openCircuitVolts));

    /// <summary>The same loads, to which others can be added.</summary>
    public LoadSet Copy() => new(this, Feeder);

    /// <summary>The same loads, each times a factor.</summary>
    public LoadSet Scaled(double factor)
    {
        var scaled = new LoadSet(this, Feeder);
        foreach (ref var lanes in scaled.legToNeutral.AsSpan())
            lanes.Scale(factor);
        foreach (ref var lanes in scaled.legToLeg.AsSpan())
            lanes.Scale(factor);
        return scaled;
    }

    /// <summary>Puts at a bus the amps that its legs give off at its leg-to-neutral volts.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal void PutAmps(int bus, LoadFlowState state, Phasors volts)
    {
        state.Amps[bus] = legToNeutral[bus].AmpsAt(volts);
        if (hasLegToLeg[bus])
            AddLegToLeg(bus, state);
    }

    /// <summary>Lane k carries the current from leg k to the next; a leg gives off its own lane less the previous one's.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    void AddLegToLeg(int bus, LoadFlowState state)
    {
        var volts = state.Volts[bus];
        var between = legToLeg![bus].AmpsAt(volts - volts.Next(legs));
        state.Amps[bus] += between - between.Previous(legs);
    }
}
