using System.Text.Json.Nodes;
using Farberth.Monitoring.Words;

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
    /// <summary>Stands in a cable's stead for the breaker at the root.</summary>
    public const string FeederBreaker = "feeder-breaker";

    /// <summary>"C.C12.A.overload": the same place and kind have the same id, always.</summary>
    public string AlarmId(AlarmKind kind) =>
        string.Concat([Dock, Dot(Cable), Cable, Dot(Pedestal), Pedestal, Dot(Outlet), Outlet, ".", kind.Word()]);

    static string? Dot(string? part) => part == null ? null : ".";
}

/// <summary>An alarm as it stands after its latest transition, with words and figures of the last full minute in which it was past its limit.</summary>
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
    JsonObject Evidence)
{
    /// <summary>The message, sentence by sentence, for readers of another language; empty where it is known only as it was written down in English.</summary>
    public IReadOnlyList<Sentence> Said { get; init; } = [];

    /// <summary>Who has put it aside, while it is shelved or out of service.</summary>
    public SetAside? SetAside { get; init; }

    /// <summary>The alarm whose consequence it is, while it is suppressed.</summary>
    public string? SuppressedBy { get; init; }

    /// <summary>The first alarm of the burst in which it was raised; its own id if it is the first.</summary>
    public string? FirstUp { get; init; }

    /// <summary>Whom it is not to call, since it was raised in a flood; it stands in every list all the same.</summary>
    public Audience HeldBackFrom { get; init; }

    /// <summary>How often it was raised in the last hour, where that is so often that it now clears more slowly; else 0.</summary>
    public int Chattering { get; init; }
}

/// <summary>Somebody has put an alarm aside: shelved it, or taken it out of service.</summary>
/// <param name="Until">When it comes back by itself; null: when somebody says so.</param>
public sealed record SetAside(string By, DateTimeOffset At, DateTimeOffset? Until, string Reason);

/// <summary>One step in an alarm's life.</summary>
/// <param name="Reason">Why it took the step: the condition, or who acknowledged it.</param>
public sealed record AlarmTransition(DateTimeOffset At, AlarmState From, Alarm Alarm, string Reason)
{
    /// <summary>The reason for readers of another language; null where it is known only as it was written down in English.</summary>
    public Sentence? Why { get; init; }

    /// <summary>A new alarm; one that gets worse is none.</summary>
    public bool IsRaise => Alarm.State == AlarmState.Unacknowledged && !From.IsActive();
}
