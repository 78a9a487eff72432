using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Advice;

/// <summary>Since when each limit is passed: what is over before its alarm's raise delay asks nobody for anything.</summary>
sealed class LimitWatch(IReadOnlyDictionary<AlarmKind, AlarmTiming> timings)
{
    readonly Dictionary<string, DateTimeOffset> since = [];

    /// <summary>The limits that have been passed for long enough.</summary>
    public IReadOnlyList<Limit> Held(IReadOnlyList<Limit> limits, DateTimeOffset now)
    {
        foreach (var limit in limits)
            if (limit.Now <= 0)
                since.Remove(limit.Id);
            else
                since.TryAdd(limit.Id, now);
        return [.. limits.Where(limit => limit.Now > 0 && now - since[limit.Id] >= timings[limit.Kind].RaiseAfter)];
    }
}
