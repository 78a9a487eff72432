using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Service.Journaling;

/// <summary>What was refused since it was last asked, once a minute at most.</summary>
sealed class RefusalDelta
{
    static readonly TimeSpan Every = TimeSpan.FromMinutes(1);

    IReadOnlyDictionary<RefusalReason, RefusalTally> written = new Dictionary<RefusalReason, RefusalTally>();
    DateTimeOffset next = DateTimeOffset.MinValue;

    public void Begin(IReadOnlyDictionary<RefusalReason, RefusalTally> counted) => written = counted;

    public IReadOnlyList<RefusalsMore> Take(IReadOnlyDictionary<RefusalReason, RefusalTally> now, DateTimeOffset at)
    {
        if (at < next && next - at <= Every)
            return [];
        next = at + Every;
        var more = now.Select(pair => new RefusalsMore(pair.Key, pair.Value.Count - (written.GetValueOrDefault(pair.Key)?.Count ?? 0), pair.Value.Last))
            .Where(one => one.Count > 0).ToList();
        written = now;
        return more;
    }
}
