using System.Globalization;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms;

/// <summary>What somebody asked for and cannot have.</summary>
public sealed record RefusedCommand(AlarmCommand Command, Sentence Why);

/// <summary>What people decide about an alarm: done, or refused with the reason.</summary>
static class AlarmCommands
{
    /// <param name="finding">What is found there now; null while nothing is judged.</param>
    /// <returns>An acknowledgement that comes too late is neither done nor refused.</returns>
    public static (AlarmTransition? Done, Sentence? Objection) Obey(AlarmTrack track, AlarmCommand command, Finding? finding, DateTimeOffset now) =>
        command switch
        {
            Acknowledgement => (track.Move(AlarmEvent.Acknowledge, now, Sentence.Of("acknowledged by {0}", command.By)), null),
            ShelveRequest shelve => Shelve(track, shelve, finding, now),
            OutOfServiceRequest remove => Or(track, track.Put(
                AlarmEvent.RemoveFromService, now, Sentence.Of("taken out of service by {0}: {1}", remove.By, remove.Reason),
                new(remove.By, now, Shelving.ServiceEnd(track.Kind, now), remove.Reason), finding)),
            UnshelveRequest => Or(track, track.Move(AlarmEvent.Unshelve, now, Sentence.Of("taken off the shelf by {0}", command.By))),
            ReturnToServiceRequest => Or(track, track.Move(AlarmEvent.ReturnToService, now, Sentence.Of("returned to service by {0}", command.By))),
            _ => (null, Sentence.Of("nobody knows how to do that")),
        };

    static (AlarmTransition?, Sentence?) Shelve(AlarmTrack track, ShelveRequest shelve, Finding? finding, DateTimeOffset now)
    {
        var priority = track.Alarm?.Priority ?? finding?.Priority ?? Priority.High;
        if (Shelving.Objection(track.Kind, priority, shelve.Until, now) is { } objection)
            return (null, objection);
        var until = shelve.Until.UtcDateTime.ToString("yyyy-MM-dd HH:mm 'UTC'", CultureInfo.InvariantCulture);
        return Or(track, track.Put(
            AlarmEvent.Shelve, now, Sentence.Of("shelved by {0} until {1}: {2}", shelve.By, until, shelve.Reason),
            new(shelve.By, now, shelve.Until, shelve.Reason), finding));
    }

    static (AlarmTransition?, Sentence?) Or(AlarmTrack track, AlarmTransition? done) =>
        done != null ? (done, null) : (null, track.State switch
        {
            AlarmState.Normal => Sentence.Of("it is normal: that does not go from there"),
            AlarmState.ReturnedUnacknowledged => Sentence.Of("it is returned-unacknowledged: that does not go from there"),
            AlarmState.Shelved => Sentence.Of("it is shelved: that does not go from there"),
            AlarmState.Suppressed => Sentence.Of("it is suppressed: that does not go from there"),
            AlarmState.OutOfService => Sentence.Of("it is out-of-service: that does not go from there"),
            _ => Sentence.Of("it stands: that does not go from there"),
        });
}
