namespace Farberth.Monitoring.Risk;

/// <summary>Whether a boat that hangs on one cord could bring out another: two outlets are there for its slip and one carries all.</summary>
public static class SecondCord
{
    /// <param name="outlets">Of the whole dock.</param>
    /// <param name="drawingAmps">From which on somebody draws.</param>
    /// <returns>Another outlet of the same slip that has been heard from and from which nothing is drawn; null: there is none.</returns>
    public static OutletRisk? SpareFor(OutletRisk outlet, IEnumerable<OutletRisk> outlets, double drawingAmps) =>
        outlet.Outlet.Slip is { } slip && outlet.Amps >= drawingAmps
            ? outlets.FirstOrDefault(other => other.Outlet.Slip == slip && other.Amps < drawingAmps)
            : null;
}
