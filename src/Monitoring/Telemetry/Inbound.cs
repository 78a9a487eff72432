using System.Text.Json.Serialization;
using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Telemetry;

/// <summary>Anything the outside tells the service, decoded and checked against the site file.</summary>
public abstract record Inbound(DateTimeOffset Time);

/// <summary>One message from one pedestal, with only what the site file has.</summary>
/// <param name="Time">The pedestal's own time of measurement, UTC.</param>
/// <param name="Seq">The pedestal's message counter; may wrap, may be missing.</param>
/// <param name="Volts">RMS, leg to neutral, at the pedestal's bus.</param>
public sealed record Reading(
    DateTimeOffset Time,
    string Pedestal,
    long? Seq,
    PerLeg Volts,
    IReadOnlyDictionary<string, OutletReading> Outlets) : Inbound(Time);

/// <param name="Amps">RMS.</param>
/// <param name="Watts">Active power.</param>
/// <param name="Celsius">At the outlet's contacts.</param>
/// <param name="Closed">The outlet's breaker or contactor; null where the pedestal does not say.</param>
public sealed record OutletReading(
    PerLeg Amps, PerLeg Watts, double? Celsius, double? LeakageMilliamps, bool? Closed);

/// <summary>A pedestal's birth or last will.</summary>
public sealed record LinkNotice(DateTimeOffset Time, string Pedestal, bool Online) : Inbound(Time);

/// <param name="Humidity">0 to 1.</param>
public sealed record Weather(
    DateTimeOffset Time, double Celsius, double? Humidity, IReadOnlyList<ForecastHour> Forecast) : Inbound(Time);

public sealed record ForecastHour(DateTimeOffset Time, double Celsius);

/// <summary>Somebody who knows says whether a boat lies in a slip.</summary>
public sealed record BoatNotice(DateTimeOffset Time, string Slip, bool Present) : Inbound(Time);

/// <summary>A person decides something about an alarm.</summary>
/// <param name="By">The person's name.</param>
[JsonDerivedType(typeof(Acknowledgement), "acknowledge")]
[JsonDerivedType(typeof(ShelveRequest), "shelve")]
[JsonDerivedType(typeof(UnshelveRequest), "unshelve")]
[JsonDerivedType(typeof(OutOfServiceRequest), "out-of-service")]
[JsonDerivedType(typeof(ReturnToServiceRequest), "return-to-service")]
public abstract record AlarmCommand(DateTimeOffset Time, string AlarmId, string By) : Inbound(Time)
{
    /// <summary>It is about an alarm of this dock.</summary>
    public bool IsFor(string dock) => AlarmAddress.Dock(AlarmId) == dock;
}

/// <summary>A person has seen an alarm.</summary>
public sealed record Acknowledgement(DateTimeOffset Time, string AlarmId, string By) : AlarmCommand(Time, AlarmId, By);

/// <summary>A person puts an alarm aside for a while.</summary>
public sealed record ShelveRequest(DateTimeOffset Time, string AlarmId, string By, DateTimeOffset Until, string Reason)
    : AlarmCommand(Time, AlarmId, By);

public sealed record UnshelveRequest(DateTimeOffset Time, string AlarmId, string By) : AlarmCommand(Time, AlarmId, By);

/// <summary>Maintenance takes an alarm out of service.</summary>
public sealed record OutOfServiceRequest(DateTimeOffset Time, string AlarmId, string By, string Reason)
    : AlarmCommand(Time, AlarmId, By);

public sealed record ReturnToServiceRequest(DateTimeOffset Time, string AlarmId, string By) : AlarmCommand(Time, AlarmId, By);
