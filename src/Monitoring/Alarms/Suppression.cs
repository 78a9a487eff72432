using System.Collections.Frozen;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Alarms;

/// <summary>An alarm, or the suspicion of one, that explains others.</summary>
/// <param name="Point">Of the feeder: it explains what is beyond.</param>
/// <param name="Holds">False: not yet; what it would explain waits.</param>
readonly record struct Cause(string AlarmId, AlarmKind Kind, string Point, bool Holds);

/// <param name="Beyond">Kinds that are only its consequences at pedestals and cables beyond it.</param>
/// <param name="OnDock">Kinds that are only its consequences anywhere on the dock.</param>
sealed record SuppressionRelation(AlarmKind Cause, IReadOnlyList<AlarmKind> Beyond, IReadOnlyList<AlarmKind> OnDock);

/// <summary>
/// Which alarm is only the consequence of which other one: suppression by design. What can hurt somebody or start a fire is never
/// suppressed, with one exception: high and low volts beyond an open neutral, which is itself told to everybody at the highest priority.
/// </summary>
static class Suppression
{
    public static readonly IReadOnlyList<SuppressionRelation> Relations =
    [
        // The estimate knows of no open neutral: where fewer meters tell of it, they look doubtful, and else the others.
        // A leg that an open neutral pulls far down looks dead, and switching off what is beyond is what that alarm asks for.
        new(AlarmKind.OpenNeutral,
            [AlarmKind.Undervoltage, AlarmKind.Overvoltage, AlarmKind.SupplyLost], [AlarmKind.LegImbalance, AlarmKind.MeterDoubtful]),
        // Of a silent pedestal only the computed volts are left, and they assume that the feeder lives.
        new(AlarmKind.SupplyLost,
            [AlarmKind.SupplyLost, AlarmKind.Undervoltage, AlarmKind.MeterSilent], [AlarmKind.LegImbalance, AlarmKind.MeterDoubtful]),
    ];

    static readonly FrozenSet<AlarmKind> Causes = Relations.Select(relation => relation.Cause).ToFrozenSet();

    /// <summary>It may explain others; the alarm of a single pedestal explains none.</summary>
    public static bool IsCause(AlarmKind kind, Place place) => place.Pedestal == null && Causes.Contains(kind);

    public static bool Explains(Cause cause, string alarmId, AlarmKind kind, Place place, DockTree tree)
    {
        if (cause.AlarmId == alarmId)
            return false;
        foreach (var relation in Relations)
            if (relation.Cause == cause.Kind)
                return relation.OnDock.Contains(kind)
                    || (relation.Beyond.Contains(kind) && (place.Pedestal ?? place.Cable) is { } point && tree.IsBeyond(cause.Point, point));
        return false;
    }
}
