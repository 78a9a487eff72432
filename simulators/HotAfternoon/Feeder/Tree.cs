using System.Collections.Frozen;

namespace Farberth.HotAfternoon;

/// <summary>
/// The dock as numbered nodes, parents before children: node 0 are the source's terminals, then the points of the
/// feeder, then the far end of each shore cord. Node n &gt; 0 names the branch that leads to it.
/// </summary>
/// <param name="Lanes">Conductors of every branch: the legs, then the neutral.</param>
public sealed record Tree(IReadOnlyList<string> Names, IReadOnlyList<int> Parents, int Lanes)
{
    readonly FrozenDictionary<string, int> indices =
        Names.Index().ToFrozenDictionary(item => item.Item, item => item.Index);

    public int Count => Names.Count;

    public int Neutral => Lanes - 1;

    /// <summary>True for the far end of a shore cord, which is named after its outlet: "H7.A".</summary>
    public bool IsCord(int node) => Names[node].Contains('.', StringComparison.Ordinal);

    /// <exception cref="KeyNotFoundException">There is no such node.</exception>
    public int IndexOf(string name) => indices[name];
}

/// <summary>What one load asks for between two conductors of one node.</summary>
/// <param name="To">A leg, or the neutral lane.</param>
/// <param name="NominalVolts">Between the two.</param>
/// <param name="CanWait">People can do without it for a while.</param>
public readonly record struct NodeLoad(int Node, int From, int To, double NominalVolts, Demand Demand, bool CanWait = false);
