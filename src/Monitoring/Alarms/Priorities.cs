namespace Farberth.Monitoring.Alarms;

/// <summary>What happens if nobody does anything about an alarm.</summary>
public enum Consequence
{
    /// <summary>Something is known less well: a meter, a number.</summary>
    Knowledge,

    /// <summary>Comfort, wear, an ill-used dock.</summary>
    Service,

    /// <summary>Something breaks or spoils: a motor, a freezer's load, a cable.</summary>
    Damage,

    /// <summary>Fire, or somebody is hurt.</summary>
    Danger,
}

/// <summary>
/// Priority from consequence and from the time in which a person must act. That both decide, and nothing else, is the idea
/// of ISA-18.2 / IEC 62682 (from memory); the classes, the minutes and the cells are assumed.
/// </summary>
public static class Priorities
{
    const double SoonMinutes = 10, HourMinutes = 60;

    /// <param name="minutesToRespond">From the alarm until it is too late to prevent the consequence.</param>
    public static Priority Of(Consequence consequence, double minutesToRespond) => (consequence, minutesToRespond) switch
    {
        (Consequence.Danger, <= HourMinutes) => Priority.High,
        (Consequence.Danger, _) => Priority.Medium,
        (Consequence.Damage, <= SoonMinutes) => Priority.High,
        (Consequence.Damage, <= HourMinutes) => Priority.Medium,
        (Consequence.Service, <= SoonMinutes) => Priority.Medium,
        _ => Priority.Low,
    };
}
