using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;

namespace Farberth.Planning.Placement;

/// <summary>An outlet of a slip, with the pedestal that it is on.</summary>
public sealed record BerthOutlet(string Pedestal, OutletDefinition Outlet)
{
    /// <summary>Outlets that load the same legs of the same pedestal are electrically one.</summary>
    internal Connection Connection => new(Pedestal, Outlet.Legs.Aggregate(0, (mask, leg) => mask | 1 << (int)leg), OutletPower.IsBetweenLegs(Outlet));

    /// <summary>As "C12.A on L1".</summary>
    public override string ToString() => $"{Pedestal}.{Outlet.Name} on {string.Join("+", Outlet.Legs)}";
}

/// <summary>Where a load hangs: a pedestal, its legs as bits, and whether it hangs between two of them.</summary>
readonly record struct Connection(string Pedestal, int Legs, bool IsBetweenLegs);

/// <summary>One way to lie in a slip: the outlets that the boat's cords go to. Empty for a boat without a cord.</summary>
/// <param name="Dock">Of the outlets; null where the boat takes none.</param>
public sealed record Berth(string Slip, string? Dock, IReadOnlyList<BerthOutlet> Outlets);
