using Farberth.Monitoring.Words;

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
    public static Sentence? Objection(AlarmKind kind, Priority priority, DateTimeOffset until, DateTimeOffset now)
    {
        var longest = priority == Priority.High ? LongestOfHighPriority : Longest;
        return IsHazard(kind) ? kind == AlarmKind.Leakage ? Sentence.Of("leakage is a danger to life and cannot be shelved") : Sentence.Of("open-neutral is a danger to life and cannot be shelved")
            : until <= now ? Sentence.Of("the end of the shelf has passed already")
            : until - now > longest ? priority switch
            {
                Priority.High => Sentence.Of("of high priority it can be shelved for {0:0} h at most", longest.TotalHours),
                Priority.Medium => Sentence.Of("of medium priority it can be shelved for {0:0} h at most", longest.TotalHours),
                _ => Sentence.Of("of low priority it can be shelved for {0:0} h at most", longest.TotalHours),
            }
            : null;
    }

    /// <summary>When an alarm out of service comes back by itself; null: when somebody returns it.</summary>
    public static DateTimeOffset? ServiceEnd(AlarmKind kind, DateTimeOffset now) => IsHazard(kind) ? now + LongestServiceOfHazard : null;
}
