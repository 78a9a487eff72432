using System.Runtime.CompilerServices;
using Farberth.Grid.Network;

namespace Farberth.Grid.LoadFlow;

/// <summary>The loop impedance matrix of a branch (<see cref="ImpedanceMatrix.Loop"/>) by columns, ready for the sweep.</summary>
readonly struct LoopColumns(ImpedanceMatrix impedance, IReadOnlyList<Leg> legs)
{
    readonly Phasors column1 = Column(impedance, legs, Leg.L1);
    readonly Phasors column2 = Column(impedance, legs, Leg.L2);
    readonly Phasors column3 = Column(impedance, legs, Leg.L3);

    public System.Numerics.Complex this[int row, int column] => (column == 0 ? column1 : column == 1 ? column2 : column3)[row];

    /// <summary>Z·amps. The third leg's column is left out where there is no third leg.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Phasors DropOf(Phasors amps, bool threeLegs)
    {
        var drop = column1 * amps.Spread(0) + column2 * amps.Spread(1);
        return threeLegs ? drop + column3 * amps.Spread(2) : drop;
    }

    static Phasors Column(ImpedanceMatrix impedance, IReadOnlyList<Leg> legs, Leg column) => Phasors.From(
        [.. legs.Select(row => legs.Contains(column) ? impedance.Loop(row, column) : 0)]);
}
