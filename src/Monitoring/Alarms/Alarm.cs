using System.Text.Json.Nodes;

namespace Farberth.Monitoring.Alarms;

public enum Priority
{
    Low,
    Medium,
    High,
}

/// <summary>Whom an alarm is for.</summary>
[Flags]
public enum Audience
{
    None = 0,
    Electrician = 1,
    Harbormaster = 2,
    Boater = 4,
    Everybody = Electrician | Harbormaster | Boater,
}

/// <summary>What an alarm is about: a dock, and where it is narrower than that, a cable, pedestal, outlet and slip.</summary>
public sealed record Place(
    string Dock, string? Cable = null, string? Pedestal = null, string? Outlet = null, string? Slip = null)
{
    /// <summary>"C.C12.A.overload": the same place and kind have the same id, always.</summary>
    public string AlarmId(AlarmKind kind) =>
        string.Join('.', new[] { Dock, Cable, Pedestal, Outlet, kind.Word() }.Where(part => part != null));
}

/// <summary>An alarm as it stands after its latest transition.</summary>
/// <param name="Since">When it was last raised.</param>
/// <param name="Message">One plain sentence, or two.</param>
/// <param name="Evidence">The numbers it rests on.</param>
public sealed record Alarm(
    string Id,
    AlarmKind Kind,
    AlarmState State,
    Priority Priority,
    DateTimeOffset Since,
    Place Place,
    Audience For,
    string Message,
    JsonObject Evidence);

/// <summary>One step in an alarm's life.</summary>
/// <param name="Reason">Why it took the step: the condition, or who acknowledged it.</param>
public sealed record AlarmTransition(DateTimeOffset At, AlarmState From, Alarm Alarm, string Reason);
