using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms;

/// <summary>One alarm through its life: how it stands, whether its condition holds, and who has put it aside.</summary>
sealed class AlarmTrack(string id, AlarmKind kind)
{
    static readonly Sentence LimitPassed = Sentence.Of("the limit was passed");

    static readonly Sentence NothingWrong = Sentence.Of("Put aside while nothing was wrong here.");

    /// <summary>Every pedestal has spoken by then; what looks narrower later is no better known.</summary>
    static readonly TimeSpan LocatedWithin = TimeSpan.FromSeconds(60);

    readonly AlarmCondition condition = new();
    readonly Chatter chatter = new();
    Sentence whyRaised = LimitPassed;
    string? point;
    string? named;
    int sharpness;

    public Alarm? Alarm { get; private set; }

    /// <summary>Null: it explains no other alarm now.</summary>
    public Cause? Cause { get; private set; }

    public AlarmKind Kind => kind;

    /// <summary>Its pedestal, else its cable, else its dock.</summary>
    public string Point { get; } = AlarmAddress.Point(id);

    public AlarmState State => Alarm?.State ?? AlarmState.Normal;

    /// <summary>When its raise delay ends; null: none runs.</summary>
    public DateTimeOffset? RaisesAt(AlarmTiming timing) => condition.RaisesAt(timing);

    public bool IsIdle(DateTimeOffset now) => Alarm == null && condition.IsIdle && chatter.IsIdle(now);

    /// <param name="explainedBy">What explains it: it is not told while that holds, and waits while that is only suspected.</param>
    public IEnumerable<AlarmTransition> Take(Finding finding, AlarmTiming timing, Cause? explainedBy, DateTimeOffset now)
    {
        condition.Take(finding, timing, chatter.ClearAfter(timing, now), explainedBy is not { Holds: false }, now);
        whyRaised = condition.Holds ? whyRaised : LimitPassed;
        point = finding.Beyond ?? (condition.Holds ? point : null);
        Cause = point != null && (condition.Holds || finding.IsPast || finding.IsPending) ? new(id, kind, point, condition.Holds) : null;
        var cause = explainedBy is { Holds: true } ? explainedBy.Value.AlarmId : null;
        return State switch
        {
            AlarmState.Unacknowledged or AlarmState.Acknowledged => [.. OneOf(Standing(finding, cause, now))],
            AlarmState.Suppressed => [.. OneOf(Released(cause, now))],
            AlarmState.Shelved when finding.IsPast && condition.Holds && finding.Priority > Alarm!.Priority => Worse(finding, cause, now),
            AlarmState.Normal or AlarmState.ReturnedUnacknowledged when condition.Holds && finding.IsPast => [.. OneOf(Begin(finding, cause, now))],
            _ => [],
        };
    }

    /// <summary>What people and causes do to it; null where the state diagram does not know it.</summary>
    public AlarmTransition? Move(AlarmEvent happened, DateTimeOffset now, Sentence reason, SetAside? aside = null, string? suppressedBy = null)
    {
        if (Alarm == null || AlarmLifecycle.Next(State, happened) is not { } next)
            return null;
        var from = State;
        var moved = Alarm with { State = next, SetAside = aside, SuppressedBy = suppressedBy };
        Alarm = next == AlarmState.Normal ? null : moved;
        if (happened is AlarmEvent.Unshelve or AlarmEvent.ReturnToService)
            whyRaised = happened == AlarmEvent.Unshelve ? Sentence.Of("it was shelved, and its condition still holds") : Sentence.Of("it was out of service, and its condition still holds");
        return Step(now, from, moved, reason);
    }

    /// <summary>Somebody puts it aside. Normal, it has nothing to show yet but where it is.</summary>
    public AlarmTransition? Put(AlarmEvent aside, DateTimeOffset now, Sentence reason, SetAside by, Finding? finding)
    {
        if (Alarm == null && finding != null)
            Alarm = new(id, kind, AlarmState.Normal, finding.Priority, now, finding.Place, finding.For, $"{NothingWrong}", []) { Said = [NothingWrong] };
        return Move(aside, now, reason, by);
    }

    /// <summary>What was put aside comes back by itself at its end.</summary>
    public AlarmTransition? EndAside(DateTimeOffset now) =>
        Alarm?.SetAside is not { Until: { } until } || now < until ? null
        : State == AlarmState.Shelved ? Move(AlarmEvent.Unshelve, now, Sentence.Of("the end of its shelf"))
        : Move(AlarmEvent.ReturnToService, now, Sentence.Of("the end of its time out of service"));

    /// <summary>The flood in which it was held back from somebody is over for them.</summary>
    public AlarmTransition? Release(Audience from, DateTimeOffset now)
    {
        if (Alarm is null || (Alarm.HeldBackFrom & from) == Audience.None)
            return null;
        Alarm = Alarm with { HeldBackFrom = Alarm.HeldBackFrom & ~from };
        return State.IsActive() ? Step(now, State, Alarm, Sentence.Of("the flood is over in which it was held back")) : null;
    }

    /// <summary>Writes what is known of the burst in which it was raised into the alarm.</summary>
    public AlarmTransition Mark(AlarmTransition raise, string firstUp, Audience heldBackFrom)
    {
        Alarm = raise.Alarm with { FirstUp = firstUp, HeldBackFrom = heldBackFrom };
        return raise with { Alarm = Alarm };
    }

    AlarmTransition? Standing(Finding finding, string? cause, DateTimeOffset now)
    {
        if (!condition.Holds)
            return Return(finding, now);
        if (cause != null)
            return Move(AlarmEvent.Suppress, now, Sentence.Of("it is a consequence of {0}", cause), suppressedBy: cause);
        if (!finding.IsPast)
            return null;
        return finding.Priority > Alarm!.Priority ? Raise(finding, now, Sentence.Of("it got worse"))
            : finding.IsLocated && finding.Beyond != named && chatter.Times(now) == 0 ? Relocate(finding, now)
            : finding.Sharpness > sharpness && now - Alarm.Since <= LocatedWithin ? Raise(finding, now, Sentence.Of("it is located more narrowly"))
            : Renew(finding, now);
    }

    /// <summary>
    /// Each full minute its words and figures become those of now, for whoever looks: hours later nobody should read how it began. It is no step of
    /// the alarm, and nobody is told again.
    /// </summary>
    AlarmTransition? Renew(Finding finding, DateTimeOffset now)
    {
        if (now.Ticks % TimeSpan.TicksPerMinute == 0 && finding.Beyond == named && finding.Sharpness == sharpness && finding.Place == Alarm!.Place)
        {
            var description = finding.Describe();
            Alarm = Alarm with { Message = description.Message, Said = description.Said, Evidence = description.Evidence };
        }
        return null;
    }

    /// <summary>It counts as raised: one that goes from place to place chatters, and then stays where it is.</summary>
    AlarmTransition Relocate(Finding finding, DateTimeOffset now)
    {
        chatter.Raised(now);
        return Raise(finding, now, Sentence.Of("it is located elsewhere"));
    }

    AlarmTransition? Released(string? cause, DateTimeOffset now)
    {
        if (!condition.Holds)
            return Move(AlarmEvent.Unsuppress, now, Sentence.Of("over while it was suppressed"));
        if (cause != null)
            return null;
        condition.Restart(now);
        return Move(AlarmEvent.Unsuppress, now, Sentence.Of("{0} explains it no longer", Alarm!.SuppressedBy!));
    }

    IEnumerable<AlarmTransition> Worse(Finding finding, string? cause, DateTimeOffset now)
    {
        var off = Move(AlarmEvent.Unshelve, now, Sentence.Of("it is worse than what was shelved"))!;
        whyRaised = off.Why!;
        return [off, .. OneOf(Begin(finding, cause, now))];
    }

    AlarmTransition? Begin(Finding finding, string? cause, DateTimeOffset now)
    {
        if (cause == null)
            return Raise(finding, now, whyRaised);
        if (State == AlarmState.ReturnedUnacknowledged)
            return null; // the diagram knows no way from there; acknowledged, it is suppressed
        var alarm = Made(finding, now, AlarmState.Normal);
        Alarm = alarm;
        return Move(AlarmEvent.Suppress, now, Sentence.Of("it is a consequence of {0}", cause), suppressedBy: cause);
    }

    AlarmTransition Raise(Finding finding, DateTimeOffset now, Sentence reason)
    {
        var from = State;
        if (!from.IsActive())
            chatter.Raised(now);
        Alarm = Made(finding, from.IsActive() ? Alarm!.Since : now, AlarmState.Unacknowledged) with
        {
            Chattering = chatter.Times(now),
            FirstUp = Alarm?.FirstUp,
        };
        whyRaised = LimitPassed;
        return Step(now, from, Alarm, Alarm.Chattering == 0 || from.IsActive() ? reason
            : Sentence.Of("{0}, {1} times within an hour: it chatters, and clears more slowly now", reason, Alarm.Chattering));
    }

    Alarm Made(Finding finding, DateTimeOffset since, AlarmState state)
    {
        var description = finding.Describe();
        (named, sharpness) = (finding.Beyond, finding.Sharpness);
        return new(id, kind, state, finding.Priority, since, finding.Place, finding.For, description.Message, description.Evidence) { Said = description.Said };
    }

    AlarmTransition? Return(Finding finding, DateTimeOffset now)
    {
        Alarm = Alarm! with { Evidence = finding.Describe().Evidence };
        return Move(AlarmEvent.Return, now, Sentence.Of("back within the limit"));
    }

    static AlarmTransition Step(DateTimeOffset now, AlarmState from, Alarm alarm, Sentence why) => new(now, from, alarm, $"{why}") { Why = why };

    static IEnumerable<AlarmTransition> OneOf(AlarmTransition? step) => step == null ? [] : [step];

    public AlarmTrackMemory Memory() => new(id, kind, Alarm, condition.Memory(), chatter.Memory(), whyRaised, point, named, sharpness);

    public static AlarmTrack Of(AlarmTrackMemory memory)
    {
        var track = new AlarmTrack(memory.Id, memory.Kind) { Alarm = memory.Alarm };
        track.condition.Resume(memory.Condition);
        track.chatter.Resume(memory.Raised);
        (track.whyRaised, track.point, track.named, track.sharpness) = (memory.WhyRaised, memory.Point, memory.Named, memory.Sharpness);
        return track;
    }
}

/// <param name="Alarm">Null while it is normal.</param>
/// <param name="Raised">When, in the last hour.</param>
/// <param name="Point">Of the feeder: beyond it, it explains others.</param>
/// <param name="Named">The point that it was last raised with.</param>
sealed record AlarmTrackMemory(
    string Id, AlarmKind Kind, Alarm? Alarm, ConditionMemory Condition, IReadOnlyList<DateTimeOffset> Raised, Sentence WhyRaised, string? Point,
    string? Named, int Sharpness);
