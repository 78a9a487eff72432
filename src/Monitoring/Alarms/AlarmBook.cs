using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms;

/// <summary>What one tick did to the alarms of a dock.</summary>
/// <param name="Refused">What people asked for and cannot have.</param>
sealed record AlarmStep(IReadOnlyList<AlarmTransition> Transitions, IReadOnlyList<RefusedCommand> Refused);

/// <summary>Every alarm of a dock: it brings findings and people's commands to the right one, and tells causes from consequences.</summary>
sealed class AlarmBook(IReadOnlyDictionary<AlarmKind, AlarmTiming> timings, DockTree tree)
{
    readonly SortedList<string, AlarmTrack> tracks = new(StringComparer.Ordinal);
    readonly AlarmBurst burst = new();
    RecalledAlarms? recalled;

    /// <summary>Every alarm that is not normal, by id.</summary>
    public IReadOnlyList<Alarm> Standing
    {
        get
        {
            var standing = new List<Alarm>(tracks.Count);
            foreach (var track in tracks.Values)
                if (track.Alarm is { } alarm)
                    standing.Add(alarm);
            return standing;
        }
    }

    public AlarmFlow Flow => burst.Flow;

    /// <summary>Where an alarm is remembered.</summary>
    public RecalledAlarms Recalled => recalled ??= new(tracks.Values.Select(track => (track.Kind, track.Point)));

    /// <param name="findings">
    /// Of every rule, wherever a limit is passed or may soon be, or an alarm is remembered; everywhere when there are commands; none while
    /// nothing is judged yet.
    /// </param>
    public AlarmStep Step(IReadOnlyList<Judged> findings, IReadOnlyList<AlarmCommand> commands, DateTimeOffset now)
    {
        var (transitions, refused) = (new List<AlarmTransition>(), new List<RefusedCommand>());
        foreach (var track in tracks.Values)
            if (track.EndAside(now) is { } end)
                transitions.Add(end);
        foreach (var command in commands)
        {
            var (transition, objection) = Obey(command, findings, now);
            if (transition != null)
                transitions.Add(transition);
            if (objection != null)
                refused.Add(new(command, objection));
        }
        Judge(findings, now, transitions);
        if (burst.Calm(now) is var calm && calm != Audience.None)
            transitions.AddRange(tracks.Values.Select(track => track.Release(calm, now)).OfType<AlarmTransition>());
        Forget(now);
        return new(transitions, refused);
    }

    /// <summary>When the next of the raise delays that run ends; null: none does.</summary>
    public DateTimeOffset? NextRaise(DateTimeOffset now) =>
        tracks.Values.Select(track => track.RaisesAt(timings[track.Kind])).Where(at => at > now).Min();

    void Forget(DateTimeOffset now)
    {
        for (var at = tracks.Count - 1; at >= 0; at--)
            if (tracks.GetValueAtIndex(at).IsIdle(now))
            {
                tracks.RemoveAt(at);
                recalled = null;
            }
    }

    AlarmTrack Remember(string id, AlarmKind kind)
    {
        recalled = null;
        return tracks[id] = new(id, kind);
    }

    /// <summary>What may explain others comes first, so that a consequence is never told before its cause.</summary>
    void Judge(IReadOnlyList<Judged> findings, DateTimeOffset now, List<AlarmTransition> transitions)
    {
        var causes = new List<Cause>();
        foreach (var (kind, finding) in findings)
            if (Suppression.IsCause(kind, finding.Place) && Take(kind, finding, causes, now, transitions) is { } cause)
                causes.Add(cause);
        foreach (var (kind, finding) in findings)
            if (!Suppression.IsCause(kind, finding.Place))
                Take(kind, finding, causes, now, transitions);
    }

    /// <returns>What it may explain.</returns>
    Cause? Take(AlarmKind kind, Finding finding, List<Cause> causes, DateTimeOffset now, List<AlarmTransition> transitions)
    {
        var id = finding.Place.AlarmId(kind);
        if (!tracks.TryGetValue(id, out var track))
        {
            if (!finding.IsPast)
                return finding is { IsPending: true, Beyond: { } point } ? new Cause(id, kind, point, Holds: false) : null;
            track = Remember(id, kind);
        }
        foreach (var transition in track.Take(finding, timings[kind], ExplainedBy(causes, id, kind, finding.Place), now))
            transitions.Add(transition.IsRaise ? Mark(track, transition, now) : transition);
        return track.Cause;
    }

    /// <summary>One that holds before one that is only suspected.</summary>
    Cause? ExplainedBy(List<Cause> causes, string id, AlarmKind kind, Place place)
    {
        Cause? found = null;
        foreach (var cause in causes)
            if (Suppression.Explains(cause, id, kind, place, tree) && found is not { Holds: true })
                found = cause;
        return found;
    }

    AlarmTransition Mark(AlarmTrack track, AlarmTransition raise, DateTimeOffset now)
    {
        var (first, heldBackFrom) = burst.Raised(raise.Alarm, now);
        return track.Mark(raise, first, heldBackFrom);
    }

    (AlarmTransition? Done, Sentence? Objection) Obey(AlarmCommand command, IReadOnlyList<Judged> findings, DateTimeOffset now)
    {
        if (tracks.TryGetValue(command.AlarmId, out var track))
            return AlarmCommands.Obey(track, command, Find(findings, command.AlarmId)?.Finding, now);
        if (command is Acknowledgement)
            return (null, null);
        if (Find(findings, command.AlarmId) is not { } judged)
            return (null, Sentence.Of("nothing is watched by that name now"));
        return AlarmCommands.Obey(Remember(command.AlarmId, judged.Kind), command, judged.Finding, now);
    }

    static Judged? Find(IReadOnlyList<Judged> findings, string id)
    {
        foreach (var judged in findings)
            if (judged.Finding.Place.AlarmId(judged.Kind) == id)
                return judged;
        return null;
    }

    public AlarmBookMemory Memory() => new([.. tracks.Values.Select(track => track.Memory())], burst.Memory());

    public void Resume(AlarmBookMemory memory)
    {
        foreach (var track in memory.Tracks)
            tracks[track.Id] = AlarmTrack.Of(track);
        recalled = null;
        burst.Resume(memory.Burst);
    }
}

sealed record AlarmBookMemory(IReadOnlyList<AlarmTrackMemory> Tracks, BurstMemory Burst);
