namespace Farberth.Monitoring.Alarms;

/// <summary>What stands wherever a hazard is shown, whoever shows it.</summary>
public static class Cautions
{
    public const string Text =
        "Nobody swims at a powered dock. Open no energised parts. Local codes and licensed people first.";

    /// <summary>Null only for kinds that tell of no hazard.</summary>
    public static string? Of(AlarmKind kind) =>
        kind is AlarmKind.MeterDoubtful or AlarmKind.LegImbalance or AlarmKind.NoDraw ? null : Text;
}
