using Farberth.Monitoring.Site;

namespace Farberth.Planning.Flow;

/// <summary>What one outlet is expected to draw.</summary>
/// <param name="Amps">On each leg that it is wired to, at nominal volts, A.</param>
public readonly record struct Draw(string Pedestal, OutletDefinition Outlet, double Amps);
