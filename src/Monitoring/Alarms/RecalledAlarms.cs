namespace Farberth.Monitoring.Alarms;

/// <summary>
/// Where alarms are remembered. Anywhere else it changes nothing that a limit is not passed, and nearly all places of a dock are such:
/// rules make no finding there.
/// </summary>
public sealed class RecalledAlarms
{
    /// <summary>Every finding is wanted, good or bad.</summary>
    public static readonly RecalledAlarms Everywhere = new([]) { all = true };

    readonly HashSet<string>?[] points = new HashSet<string>?[AlarmKinds.Words.Count];
    bool all;

    /// <param name="alarms">Each with its pedestal, else its cable, else its dock.</param>
    public RecalledAlarms(IEnumerable<(AlarmKind Kind, string Point)> alarms)
    {
        foreach (var (kind, point) in alarms)
            (points[(int)kind] ??= []).Add(point);
    }

    /// <summary>Whether one of that kind is remembered at a pedestal, at a cable or, by its name, of the dock as a whole.</summary>
    public bool At(AlarmKind kind, string point) => all || points[(int)kind]?.Contains(point) == true;
}
