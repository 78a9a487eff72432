using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Advice;

/// <summary>Since when each limit is passed, and how it moves. What is over before its alarm's raise delay asks nobody for anything.</summary>
/// <remarks>
/// A margin that rises steadily by g a second stands g·(τs − τf) above between two means that fade with τf = 1 min and τs = 10 min. What it
/// will have risen by when people have done as they are asked, some 5 min later, is asked for with the rest, up to 0.2 % of the limit (assumed: more would ask for amps that may never come).
/// That holds for what boats share; an outlet's own amps rise in steps.
/// </remarks>
sealed class LimitWatch(IReadOnlyDictionary<AlarmKind, AlarmTiming> timings)
{
    static readonly TimeSpan Fast = TimeSpan.FromMinutes(1);
    static readonly TimeSpan Slow = TimeSpan.FromMinutes(10);
    static readonly TimeSpan Ahead = TimeSpan.FromMinutes(5);

    const double MostRise = 0.002;

    readonly Dictionary<string, DateTimeOffset> since = [];
    readonly Dictionary<string, (double Fast, double Slow)> means = [];
    DateTimeOffset? last;

    /// <summary>Takes in how the limits stand now.</summary>
    /// <returns>Those that have been passed for long enough.</returns>
    public IReadOnlyList<Limit> Held(IReadOnlyList<Limit> limits, DateTimeOffset now)
    {
        var elapsed = now > last ? now - last.Value : TimeSpan.Zero;
        last = now;
        foreach (var limit in limits)
        {
            if (limit.Outlet == null)
                means[limit.Id] = means.TryGetValue(limit.Id, out var mean) ? (Faded(mean.Fast, limit.Now, elapsed / Fast), Faded(mean.Slow, limit.Now, elapsed / Slow)) : (limit.Now, limit.Now);
            if (limit.Now <= 0)
                since.Remove(limit.Id);
            else if (!since.TryGetValue(limit.Id, out var began) || began > now) // a clock may have been set back
                since[limit.Id] = now;
        }
        return [.. limits.Where(limit => limit.Now > 0 && now - since[limit.Id] >= timings[limit.Kind].RaiseAfter)];
    }

    /// <summary>What a limit's margin is likely to rise by before a request takes effect, as a share; never below 0.</summary>
    public double Rise(Limit limit) => means.TryGetValue(limit.Id, out var mean)
        ? Math.Clamp((mean.Fast - mean.Slow) * (Ahead / (Slow - Fast)), 0, MostRise) : 0;

    static double Faded(double mean, double now, double times) => now + (mean - now) * Math.Exp(-times);

    public LimitsMemory Memory() => new(
        last, since.ToDictionary(), means.ToDictionary(pair => pair.Key, pair => new MarginMeans(pair.Value.Fast, pair.Value.Slow)));

    public void Resume(LimitsMemory memory)
    {
        last = memory.Last;
        foreach (var (id, at) in memory.Since)
            since[id] = at;
        foreach (var (id, mean) in memory.Means)
            means[id] = (mean.Fast, mean.Slow);
    }
}

/// <summary>By limit.</summary>
sealed record LimitsMemory(
    DateTimeOffset? Last, IReadOnlyDictionary<string, DateTimeOffset> Since, IReadOnlyDictionary<string, MarginMeans> Means);

sealed record MarginMeans(double Fast, double Slow);
