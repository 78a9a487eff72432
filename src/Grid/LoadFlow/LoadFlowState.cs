using System.Numerics;
using Farberth.Grid.Network;

namespace Farberth.Grid.LoadFlow;

/// <summary>
/// Volts and amps of a feeder: what a solve fills and its caller reads, by the names of buses and legs. Made once and
/// used again, so that a solve allocates nothing.
/// </summary>
public sealed class LoadFlowState(Feeder feeder)
{
    public Feeder Feeder { get; } = feeder;

    /// <summary>Leg-to-neutral volts at each bus.</summary>
    internal Phasors[] Volts { get; } = new Phasors[feeder.Buses.Count];

    /// <summary>Amps of the branch that feeds each bus; at the root, of the whole feeder.</summary>
    internal Phasors[] Amps { get; } = new Phasors[feeder.Buses.Count];

    /// <summary>False where the volts of any bus ran away: its amps, and so the root's, are then no numbers.</summary>
    internal bool IsFinite => Complex.IsFinite(Amps[0][0] + Amps[0][1] + Amps[0][2]);

    /// <summary>Leg to neutral at a bus, V.</summary>
    /// <exception cref="KeyNotFoundException">No bus of that name.</exception>
    public Complex VoltsAt(string bus, Leg leg) => VoltsAt(Feeder[bus], leg);

    /// <param name="bus">Its position in the feeder.</param>
    public Complex VoltsAt(int bus, Leg leg) => leg == Leg.N ? 0 : Volts[bus][(int)leg];

    /// <summary>From one leg to another at a bus, V.</summary>
    public Complex VoltsBetween(string bus, Leg from, Leg to) => VoltsAt(bus, from) - VoltsAt(bus, to);

    /// <summary>Amps outwards in a conductor of the branch that feeds a bus; of the whole feeder at the root.</summary>
    public Complex AmpsInto(string bus, Leg conductor) => AmpsInto(Feeder[bus], conductor);

    /// <param name="bus">Its position in the feeder.</param>
    public Complex AmpsInto(int bus, Leg conductor)
    {
        var amps = Amps[bus];
        return conductor == Leg.N ? -(amps[0] + amps[1] + amps[2]) : amps[(int)conductor];
    }

    /// <summary>Amps that the loads of a bus take from one leg: what flows in less what flows on.</summary>
    public Complex AmpsDrawnAt(string bus, Leg leg) =>
        Feeder.Outward(bus).Aggregate(AmpsInto(bus, leg), (left, branch) => left - AmpsInto(branch.To, leg));

    /// <summary>The same of every leg, magnitudes only.</summary>
    /// <param name="bus">Its position in the feeder.</param>
    public PerLeg AmpsDrawnAt(int bus)
    {
        var legs = Feeder.Supply.Legs.Count;
        var drawn = Amps[bus];
        foreach (var outer in Feeder.Children[bus])
            drawn -= Amps[outer];
        return Magnitudes(drawn, legs);
    }

    /// <summary>Leg to neutral at a bus, magnitudes only, V.</summary>
    /// <exception cref="KeyNotFoundException">No bus of that name.</exception>
    public PerLeg VoltsAt(string bus) => Magnitudes(Volts[Feeder[bus]], Feeder.Supply.Legs.Count);

    static PerLeg Magnitudes(Phasors phasors, int legs)
    {
        var all = phasors.Magnitudes;
        return new(all[0], legs > 1 ? all[1] : double.NaN, legs > 2 ? all[2] : double.NaN);
    }

    /// <summary>Volts lost along one conductor of the branch that feeds a bus.</summary>
    public Complex DropInto(string bus, Leg conductor)
    {
        var at = Feeder[bus];
        return at == 0 ? 0 : Feeder.Branches[at - 1].Impedance.Drop(conductor, Amps[at][0], Amps[at][1], Amps[at][2]);
    }

    /// <summary>The neutral at a bus against the neutral at the root: it rises by what the return current drops.</summary>
    public Complex NeutralVoltsAt(string bus) =>
        Feeder.PathTo(bus).Aggregate(Complex.Zero, (volts, branch) => volts - DropInto(branch.To, Leg.N));

    /// <summary>VA that flow into the branch that feeds a bus, measured at its outer end, all legs.</summary>
    public Complex VoltAmperesInto(string bus) =>
        Feeder.Supply.Legs.Aggregate(Complex.Zero,
            (sum, leg) => sum + VoltsAt(bus, leg) * Complex.Conjugate(AmpsInto(bus, leg)));

    /// <summary>VA lost in the branch that feeds a bus.</summary>
    public Complex LossInto(string bus) =>
        Feeder.Supply.Legs.Append(Leg.N).Aggregate(Complex.Zero,
            (sum, leg) => sum + DropInto(bus, leg) * Complex.Conjugate(AmpsInto(bus, leg)));
}
