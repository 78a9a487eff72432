using System.Globalization;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Ports;

/// <summary>Something that happened at a tick. Seen again in a replay it has the same key, and is the same event.</summary>
/// <param name="Dock">On which it happened.</param>
public abstract record JournalEvent(DateTimeOffset At, string Dock)
{
    /// <summary>The alarm's id, or the slip.</summary>
    public abstract string Name { get; }

    /// <summary>The alarm's new state, what is asked of the slip, or that it was taken back.</summary>
    public abstract string State { get; }

    public abstract string? Slip { get; }

    /// <summary>Of several to the same state in one tick the how-manieth, from 0: somebody shelves, unshelves and shelves again.</summary>
    public int Nth { get; init; }

    /// <summary>Names the event, always the same: name, tick and state.</summary>
    public string Key => string.Create(CultureInfo.InvariantCulture, $"{Name} {At.UtcDateTime:yyyy-MM-dd'T'HH:mm:ss.fff'Z'} {State}")
        + (Nth == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $" {Nth + 1}"));

    /// <summary>What a tick gave, in order.</summary>
    public static IReadOnlyList<JournalEvent> Of(DockStep step)
    {
        var events = step.Transitions.Select(JournalEvent (transition) => new AlarmStepped(transition))
            .Concat(step.Advice.Changes.Select(change => new AdviceChanged(change, step.Picture.Dock.Name)));
        var before = new Dictionary<(string, string), int>();
        return [.. events.Select(one => one with { Nth = before[(one.Name, one.State)] = before.GetValueOrDefault((one.Name, one.State), -1) + 1 })];
    }
}

/// <summary>An alarm took a step.</summary>
public sealed record AlarmStepped(AlarmTransition Transition) : JournalEvent(Transition.At, Transition.Alarm.Place.Dock)
{
    public override string Name => Transition.Alarm.Id;

    public override string State => Transition.Alarm.State.Word();

    public override string? Slip => Transition.Alarm.Place.Slip;
}

/// <summary>Something was asked of a slip, asked again or taken back.</summary>
public sealed record AdviceChanged(AdviceChange Change, string Dock) : JournalEvent(Change.At, Dock)
{
    public const string TakenBack = "taken-back";

    public override string Name => Change.Slip;

    public override string State => Change.TakenBack == null ? Change.Advice.Ask.Word() : TakenBack;

    public override string? Slip => Change.Slip;
}
