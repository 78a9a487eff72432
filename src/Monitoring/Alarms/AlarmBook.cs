using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Alarms;

/// <summary>
/// Every alarm of a dock and the delays it is waiting out. A finding past its limit for the raise delay raises; one back
/// within it by the deadband for the clear delay returns; between limit and deadband nothing changes.
/// </summary>
sealed class AlarmBook(IReadOnlyDictionary<AlarmKind, AlarmTiming> timings)
{
    /// <summary>Every pedestal has spoken by then; what looks narrower later is no better known.</summary>
    static readonly TimeSpan LocatedWithin = TimeSpan.FromSeconds(60);

    readonly SortedDictionary<string, Track> tracks = new(StringComparer.Ordinal);

    /// <summary>Every alarm that is not normal, by id.</summary>
    public IReadOnlyList<Alarm> Standing => [.. tracks.Values.Select(track => track.Alarm).OfType<Alarm>()];

    public IEnumerable<AlarmTransition> Take(AlarmKind kind, Finding finding, DateTimeOffset now)
    {
        var id = finding.Place.AlarmId(kind);
        if (!tracks.TryGetValue(id, out var track))
        {
            if (!finding.IsPast)
                return [];
            tracks[id] = track = new(id, kind);
        }
        var transition = track.Take(finding, timings[kind], now);
        if (track.IsIdle)
            tracks.Remove(id);
        return transition == null ? [] : [transition];
    }

    /// <returns>Null where there is nothing to acknowledge.</returns>
    public AlarmTransition? Acknowledge(string id, string by, DateTimeOffset at)
    {
        if (!tracks.TryGetValue(id, out var track) || track.Move(AlarmEvent.Acknowledge, at, $"acknowledged by {by}") is not { } transition)
            return null;
        if (track.IsIdle)
            tracks.Remove(id);
        return transition;
    }

    /// <summary>One alarm: how it stands, and since when its condition has been otherwise.</summary>
    sealed class Track(string id, AlarmKind kind)
    {
        DateTimeOffset? pastSince;
        DateTimeOffset? backSince;
        int sharpness;

        public Alarm? Alarm { get; private set; }

        public bool IsIdle => Alarm == null && pastSince == null;

        AlarmState State => Alarm?.State ?? AlarmState.Normal;

        public AlarmTransition? Take(Finding finding, AlarmTiming timing, DateTimeOffset now)
        {
            pastSince = finding.IsPast ? pastSince ?? now : null;
            backSince = finding.Margin <= -timing.Deadband && !finding.IsPast ? backSince ?? now : null;
            if (State.IsActive())
                return finding.Priority > Alarm!.Priority && finding.IsPast ? Raise(finding, now, "it got worse")
                    : finding.Sharpness > sharpness && finding.IsPast && now - Alarm.Since <= LocatedWithin ? Raise(finding, now, "it is located more narrowly")
                    : backSince != null && now - backSince >= timing.ClearAfter ? Return(finding, now) : null;
            return pastSince != null && (finding.AtOnce || now - pastSince >= timing.RaiseAfter)
                ? Raise(finding, now, "the limit was passed") : null;
        }

        AlarmTransition Raise(Finding finding, DateTimeOffset now, string reason)
        {
            var (from, description) = (State, finding.Describe());
            var since = from.IsActive() ? Alarm!.Since : now;
            sharpness = finding.Sharpness;
            Alarm = new(id, kind, AlarmState.Unacknowledged, finding.Priority, since, finding.Place, finding.For,
                description.Message, description.Evidence);
            return new(now, from, Alarm, reason);
        }

        AlarmTransition? Return(Finding finding, DateTimeOffset now)
        {
            Alarm = Alarm! with { Evidence = finding.Describe().Evidence };
            return Move(AlarmEvent.Return, now, "back within the limit");
        }

        public AlarmTransition? Move(AlarmEvent happened, DateTimeOffset now, string reason)
        {
            if (Alarm == null || AlarmLifecycle.Next(State, happened) is not { } next)
                return null;
            var from = State;
            var moved = Alarm with { State = next };
            Alarm = next == AlarmState.Normal ? null : moved;
            return new(now, from, moved, reason);
        }
    }
}
