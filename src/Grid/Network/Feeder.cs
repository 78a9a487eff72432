using System.Numerics;
using Farberth.Grid.LoadFlow;

namespace Farberth.Grid.Network;

/// <summary>One piece of a feeder; <paramref name="To"/> is the outer end and names the branch.</summary>
public sealed record Branch(string From, string To, ImpedanceMatrix Impedance);

/// <summary>
/// An immutable tree of branches behind an ideal source. Buses are known by name; the order inside is depth-first,
/// so a bus always comes after the one that feeds it.
/// </summary>
public sealed class Feeder
{
    readonly Dictionary<string, int> index;
    readonly ILookup<string, Branch> outward;

    /// <param name="root">Name of the bus where the ideal source stands.</param>
    /// <param name="openCircuitVolts">Leg to neutral, RMS; the angles are those of the supply.</param>
    /// <exception cref="ArgumentException">The branches do not form one tree from the root.</exception>
    public Feeder(SupplySystem supply, string root, PerLeg openCircuitVolts, IEnumerable<Branch> branches)
        : this(supply, root, PhasorsOf(supply, openCircuitVolts), branches)
    {
    }

    /// <param name="openCircuitVolts">Phasors of the legs, in order.</param>
    public Feeder(SupplySystem supply, string root, IReadOnlyList<Complex> openCircuitVolts, IEnumerable<Branch> branches)
    {
        Supply = supply;
        OpenCircuitVolts = openCircuitVolts;
        outward = branches.ToLookup(branch => branch.From);
        Branches = DepthFirst(root);
        Buses = [root, .. Branches.Select(branch => branch.To)];
        index = Buses.Select((name, at) => (name, at)).ToDictionary(bus => bus.name, bus => bus.at);
        Parent = [-1, .. Branches.Select(branch => index[branch.From])];
        Children = [.. Buses.Select(bus => outward[bus].Select(branch => index[branch.To]).ToArray())];
        Loop = [default, .. Branches.Select(branch => new LoopColumns(branch.Impedance, supply.Legs))];
        OpenCircuit = Phasors.From(openCircuitVolts);
    }

    Feeder(Feeder other, IReadOnlyList<Complex> openCircuitVolts)
    {
        (Supply, OpenCircuitVolts, OpenCircuit) = (other.Supply, openCircuitVolts, Phasors.From(openCircuitVolts));
        (outward, index, Buses, Branches) = (other.outward, other.index, other.Buses, other.Branches);
        (Parent, Children, Loop) = (other.Parent, other.Children, other.Loop);
    }

    public SupplySystem Supply { get; }

    /// <summary>Every bus, the root first, each after the bus that feeds it.</summary>
    public IReadOnlyList<string> Buses { get; }

    /// <summary>Every branch; the one at position i feeds bus i + 1.</summary>
    public IReadOnlyList<Branch> Branches { get; }

    public IReadOnlyList<Complex> OpenCircuitVolts { get; }

    internal int[] Parent { get; }

    /// <summary>The buses that each bus feeds.</summary>
    internal int[][] Children { get; }

    internal LoopColumns[] Loop { get; }

    internal Phasors OpenCircuit { get; }

    /// <exception cref="KeyNotFoundException">No bus of that name.</exception>
    internal int this[string bus] => index[bus];

    /// <summary>Where a bus stands in <see cref="Buses"/>: whoever asks much of one bus looks its name up once.</summary>
    /// <exception cref="KeyNotFoundException">No bus of that name.</exception>
    public int PositionOf(string bus) => index[bus];

    /// <summary>The same branches behind other volts; cheap, since they are shared.</summary>
    /// <param name="openCircuitVolts">Leg to neutral, RMS; the angles are those of the supply.</param>
    public Feeder At(PerLeg openCircuitVolts) => new(this, PhasorsOf(Supply, openCircuitVolts));

    public bool Has(string bus) => index.ContainsKey(bus);

    /// <summary>The branches from the root to a bus, outermost first.</summary>
    public IEnumerable<Branch> PathTo(string bus)
    {
        for (var at = index[bus]; at > 0; at = Parent[at])
            yield return Branches[at - 1];
    }

    /// <summary>The branches that a bus feeds.</summary>
    public IEnumerable<Branch> Outward(string bus) => outward[bus];

    static Complex[] PhasorsOf(SupplySystem supply, PerLeg volts) => [.. supply.Legs.Select(leg => supply.Direction(leg) * volts[leg])];

    List<Branch> DepthFirst(string root)
    {
        var ordered = new List<Branch>();
        var reached = new HashSet<string> { root };
        var next = new Stack<Branch>(outward[root].Reverse());
        while (next.TryPop(out var branch))
        {
            if (!reached.Add(branch.To))
                throw new ArgumentException($"bus {branch.To} is fed twice");
            ordered.Add(branch);
            foreach (var child in outward[branch.To].Reverse())
                next.Push(child);
        }
        var unreached = outward.SelectMany(branches => branches).Count() - ordered.Count;
        if (unreached > 0)
            throw new ArgumentException($"{unreached} branches are not reached from {root}");
        return ordered;
    }
}
