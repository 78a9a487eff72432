namespace Farberth.Monitoring.Alarms;

/// <summary>What an alarm is about; on the wire the same words in lower case with hyphens.</summary>
public enum AlarmKind
{
    Overload,
    Undervoltage,
    Overvoltage,
    SupplyLost,
    NoDraw,
    CableOverload,
    TransformerOverload,
    LegImbalance,
    MeterSilent,
}
