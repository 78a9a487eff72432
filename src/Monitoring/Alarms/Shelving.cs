namespace Farberth.Monitoring.Alarms;

/// <summary>
/// What may be put aside, and for how long. A shelf is for what somebody knows and cannot end at once; it is not for what kills or
/// burns. Maintenance may take any alarm out of service, since a broken meter must not teach people to ignore it, but for a
/// hazard that ends by itself too. Figures assumed.
/// </summary>
public static class Shelving
{
    public static readonly TimeSpan Longest = TimeSpan.FromHours(12);
    public static readonly TimeSpan LongestOfHighPriority = TimeSpan.FromHours(1);
    public static readonly TimeSpan LongestServiceOfHazard = TimeSpan.FromHours(12);

    /// <summary>It kills, or destroys boats within seconds.</summary>
    public static bool IsHazard(AlarmKind kind) => kind is AlarmKind.OpenNeutral or AlarmKind.Leakage;

    /// <summary>Null where it may be shelved until then; else why not.</summary>
    public static string? Objection(AlarmKind kind, Priority priority, DateTimeOffset until, DateTimeOffset now)
    {
        var longest = priority == Priority.High ? LongestOfHighPriority : Longest;
        return IsHazard(kind) ? $"{kind.Word()} is a danger to life and cannot be shelved"
            : until <= now ? "the end of the shelf has passed already"
            : until - now > longest ? $"of {priority.ToString().ToLowerInvariant()} priority it can be shelved for {longest.TotalHours:0} h at most"
            : null;
    }

    /// <summary>When an alarm out of service comes back by itself; null: when somebody returns it.</summary>
    public static DateTimeOffset? ServiceEnd(AlarmKind kind, DateTimeOffset now) => IsHazard(kind) ? now + LongestServiceOfHazard : null;
}
