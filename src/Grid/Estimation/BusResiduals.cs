using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

/// <summary>What one meter showed beyond what the measured amps and healthy neutrals explain, at its own moment.</summary>
/// <param name="Time">Of the reading.</param>
/// <param name="Volts">r_k = measured − computed of each leg of the supply, V.</param>
/// <param name="SdVolts">What this meter alone may be wrong by, V.</param>
/// <param name="AmpsSd">What is not known of the amps at that moment.</param>
public sealed record BusResiduals(string Bus, DateTimeOffset Time, PerLeg Volts, double SdVolts, AmpsSd AmpsSd);

/// <summary>One standard deviation of the amps on each leg of each bus, A, at [bus · legs + leg] in the feeder's order; empty where all are known.</summary>
/// <param name="Lasting">Of loads that stay as they are, at a bus that nobody hears.</param>
/// <param name="Passing">Of loads that come and go within seconds, between two readings.</param>
public sealed record AmpsSd(double[] Lasting, double[] Passing)
{
    public static readonly AmpsSd None = new([], []);
}
