namespace Farberth.Monitoring.Alarms;

/// <summary>The states of ISA-18.2 / IEC 62682.</summary>
public enum AlarmState
{
    Normal,
    Unacknowledged,
    Acknowledged,
    ReturnedUnacknowledged,
    Shelved,
    Suppressed,
    OutOfService,
}

/// <summary>What moves an alarm from state to state.</summary>
public enum AlarmEvent
{
    Raise,
    Return,
    Acknowledge,
    Shelve,
    Unshelve,
    Suppress,
    Unsuppress,
    RemoveFromService,
    ReturnToService,
}

/// <summary>
/// The state diagram of ISA-18.2 / IEC 62682. An alarm raised again before anybody saw that it had returned is
/// unacknowledged again. Coming back from shelf, suppression or maintenance it is normal; if its condition still
/// holds, it is raised anew.
/// </summary>
public static class AlarmLifecycle
{
    /// <returns>The next state; null where the event does not apply.</returns>
    public static AlarmState? Next(AlarmState state, AlarmEvent happened) => (state, happened) switch
    {
        (AlarmState.Normal or AlarmState.ReturnedUnacknowledged, AlarmEvent.Raise) => AlarmState.Unacknowledged,
        (AlarmState.Unacknowledged, AlarmEvent.Return) => AlarmState.ReturnedUnacknowledged,
        (AlarmState.Unacknowledged, AlarmEvent.Acknowledge) => AlarmState.Acknowledged,
        (AlarmState.Acknowledged, AlarmEvent.Return) => AlarmState.Normal,
        (AlarmState.ReturnedUnacknowledged, AlarmEvent.Acknowledge) => AlarmState.Normal,
        (AlarmState.Normal or AlarmState.Unacknowledged or AlarmState.Acknowledged, AlarmEvent.Shelve) => AlarmState.Shelved,
        (AlarmState.Normal or AlarmState.Unacknowledged or AlarmState.Acknowledged, AlarmEvent.Suppress) => AlarmState.Suppressed,
        (AlarmState.Normal or AlarmState.Unacknowledged or AlarmState.Acknowledged, AlarmEvent.RemoveFromService) => AlarmState.OutOfService,
        (AlarmState.Shelved, AlarmEvent.Unshelve) => AlarmState.Normal,
        (AlarmState.Suppressed, AlarmEvent.Unsuppress) => AlarmState.Normal,
        (AlarmState.OutOfService, AlarmEvent.ReturnToService) => AlarmState.Normal,
        _ => null,
    };

    /// <summary>The condition was there at the last transition, and nobody has put the alarm aside.</summary>
    public static bool IsActive(this AlarmState state) => state is AlarmState.Unacknowledged or AlarmState.Acknowledged;

    /// <summary>On the wire: lower case with hyphens.</summary>
    public static string Word(this AlarmState state) => state switch
    {
        AlarmState.ReturnedUnacknowledged => "returned-unacknowledged",
        AlarmState.OutOfService => "out-of-service",
        _ => state.ToString().ToLowerInvariant(),
    };
}
