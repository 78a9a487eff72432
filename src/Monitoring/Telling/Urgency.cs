using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;

namespace Farberth.Monitoring.Telling;

/// <summary>How urgent it is to tell an event.</summary>
public static class Urgency
{
    /// <summary>Of an alarm its priority; to unplug is a hazard, other requests can wait a little.</summary>
    public static Priority Of(JournalEvent happened) => happened switch
    {
        AlarmStepped stepped => stepped.Transition.Alarm.Priority,
        AdviceChanged { Change: { TakenBack: null, Advice.Ask: Ask.Unplug } } => Priority.High,
        _ => Priority.Medium,
    };

    /// <summary>It can hurt somebody within the hour: never held back, neither by a limit nor by a journal that is away.</summary>
    public static bool IsHazard(JournalEvent happened) => Of(happened) == Priority.High;
}
