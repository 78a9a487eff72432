using System.Globalization;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Alarms;

/// <summary>What somebody asked for and cannot have.</summary>
public sealed record RefusedCommand(AlarmCommand Command, string Why);

/// <summary>What people decide about an alarm: done, or refused with the reason.</summary>
static class AlarmCommands
{
    /// <param name="finding">What is found there now; null while nothing is judged.</param>
    /// <returns>An acknowledgement that comes too late is neither done nor refused.</returns>
    public static (AlarmTransition? Done, string? Objection) Obey(AlarmTrack track, AlarmCommand command, Finding? finding, DateTimeOffset now) =>
        command switch
        {
            Acknowledgement => (track.Move(AlarmEvent.Acknowledge, now, $"acknowledged by {command.By}"), null),
            ShelveRequest shelve => Shelve(track, shelve, finding, now),
            OutOfServiceRequest remove => Or(track, track.Put(
                AlarmEvent.RemoveFromService, now, $"taken out of service by {remove.By}: {remove.Reason}",
                new(remove.By, now, Shelving.ServiceEnd(track.Kind, now), remove.Reason), finding)),
            UnshelveRequest => Or(track, track.Move(AlarmEvent.Unshelve, now, $"taken off the shelf by {command.By}")),
            ReturnToServiceRequest => Or(track, track.Move(AlarmEvent.ReturnToService, now, $"returned to service by {command.By}")),
            _ => (null, "nobody knows how to do that"),
        };

    static (AlarmTransition?, string?) Shelve(AlarmTrack track, ShelveRequest shelve, Finding? finding, DateTimeOffset now)
    {
        var priority = track.Alarm?.Priority ?? finding?.Priority ?? Priority.High;
        if (Shelving.Objection(track.Kind, priority, shelve.Until, now) is { } objection)
            return (null, objection);
        var until = shelve.Until.UtcDateTime.ToString("yyyy-MM-dd HH:mm 'UTC'", CultureInfo.InvariantCulture);
        return Or(track, track.Put(
            AlarmEvent.Shelve, now, $"shelved by {shelve.By} until {until}: {shelve.Reason}",
            new(shelve.By, now, shelve.Until, shelve.Reason), finding));
    }

    static (AlarmTransition?, string?) Or(AlarmTrack track, AlarmTransition? done) =>
        done == null ? (null, $"it is {track.State.Word()}: that does not go from there") : (done, null);
}
