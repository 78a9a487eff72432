using Farberth.Grid.Network;

namespace Farberth.Monitoring.Telemetry;

/// <summary>One message from one pedestal, decoded, with only what the site file has.</summary>
/// <param name="Time">The pedestal's own time of measurement, UTC.</param>
/// <param name="Seq">The pedestal's message counter; may wrap, may be missing.</param>
/// <param name="Volts">RMS, leg to neutral, at the pedestal's bus.</param>
public sealed record Reading(
    string Pedestal,
    DateTimeOffset Time,
    long? Seq,
    PerLeg Volts,
    IReadOnlyDictionary<string, OutletReading> Outlets);

/// <param name="Amps">RMS.</param>
/// <param name="Watts">Active power.</param>
/// <param name="Celsius">At the outlet's contacts.</param>
/// <param name="Closed">The outlet's breaker or contactor; null where the pedestal does not say.</param>
public sealed record OutletReading(
    PerLeg Amps, PerLeg Watts, double? Celsius, double? LeakageMilliamps, bool? Closed);
