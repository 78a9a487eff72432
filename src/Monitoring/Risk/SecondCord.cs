using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Risk;

/// <summary>Whether a boat that hangs on one cord could bring out another: two outlets are there for its slip and one carries all.</summary>
public static class SecondCord
{
    /// <summary>Another outlet of the same slip, of its kind and no smaller.</summary>
    public static bool IsSpare(OutletDefinition full, OutletDefinition other) => full.Slip != null && other.Slip == full.Slip
        && !ReferenceEquals(other, full) && other.Legs.Count == full.Legs.Count && other.RatingAmps >= full.RatingAmps;

    /// <param name="outlets">Of the whole dock.</param>
    /// <param name="drawingAmps">From which on somebody draws.</param>
    /// <returns>A spare one that has been heard from and from which nothing is drawn; null: there is none.</returns>
    public static OutletRisk? SpareFor(OutletRisk outlet, IEnumerable<OutletRisk> outlets, double drawingAmps) =>
        outlet.Amps < drawingAmps ? null : outlets.FirstOrDefault(other => IsSpare(outlet.Outlet, other.Outlet) && other.Amps < drawingAmps);
}
