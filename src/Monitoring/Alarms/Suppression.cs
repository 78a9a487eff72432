using Farberth.Monitoring.Outages;

namespace Farberth.Monitoring.Alarms;

/// <summary>An alarm, or the suspicion of one, that explains others.</summary>
/// <param name="Point">Of the feeder: it explains what is beyond.</param>
/// <param name="Holds">False: not yet; what it would explain waits.</param>
readonly record struct Cause(string AlarmId, AlarmKind Kind, string Point, bool Holds);

/// <param name="Beyond">Kinds that are only its consequences at pedestals and cables beyond it.</param>
/// <param name="OnDock">Kinds that are only its consequences for the dock as a whole.</param>
sealed record SuppressionRelation(AlarmKind Cause, IReadOnlyList<AlarmKind> Beyond, IReadOnlyList<AlarmKind> OnDock);

/// <summary>
/// Which alarm is only the consequence of which other one: suppression by design. What can hurt somebody or start a fire is never
/// suppressed, with one exception: high and low volts beyond an open neutral, which is itself told to everybody at the highest priority.
/// </summary>
static class Suppression
{
    public static readonly IReadOnlyList<SuppressionRelation> Relations =
    [
        new(AlarmKind.OpenNeutral, [AlarmKind.Undervoltage, AlarmKind.Overvoltage, AlarmKind.MeterDoubtful], [AlarmKind.LegImbalance]),
        new(AlarmKind.SupplyLost,
            [AlarmKind.SupplyLost, AlarmKind.Undervoltage, AlarmKind.MeterSilent, AlarmKind.MeterDoubtful],
            [AlarmKind.LegImbalance, AlarmKind.MeterSilent]),
        // Of a silent pedestal only the computed volts are left, and they assume that the feeder lives.
        new(AlarmKind.MeterSilent, [AlarmKind.MeterSilent, AlarmKind.Undervoltage, AlarmKind.MeterDoubtful], [AlarmKind.LegImbalance]),
    ];

    /// <summary>It may explain others; the alarm of a single pedestal explains none.</summary>
    public static bool IsCause(AlarmKind kind, Place place) => place.Pedestal == null && Relations.Any(relation => relation.Cause == kind);

    public static bool Explains(Cause cause, string alarmId, AlarmKind kind, Place place, DockTree tree)
    {
        if (cause.AlarmId == alarmId)
            return false;
        foreach (var relation in Relations)
            if (relation.Cause == cause.Kind)
                return place.Cable == null && place.Pedestal == null
                    ? relation.OnDock.Contains(kind)
                    : relation.Beyond.Contains(kind) && tree.IsBeyond(cause.Point, place.Pedestal ?? place.Cable!);
        return false;
    }
}
