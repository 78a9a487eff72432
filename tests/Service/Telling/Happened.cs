using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;

namespace Farberth.Service.Tests.Telling;

/// <summary>Alarms of nobody's dock, by the name a test gives them.</summary>
static class Happened
{
    public static readonly DateTimeOffset Noon = new(2027, 7, 17, 12, 0, 0, TimeSpan.Zero);

    public static AlarmStepped Step(DateTimeOffset at, string id, Priority priority = Priority.Medium, AlarmState state = AlarmState.Unacknowledged) => new(new AlarmTransition(
        at, state == AlarmState.Unacknowledged ? AlarmState.Normal : AlarmState.Unacknowledged,
        new(id, AlarmKind.Overload, state, priority, at, new("Q", null, "Q1", "A", "B1"), Audience.Everybody, $"Something is wrong with {id}.", []), "the limit was passed"));

    public static OutboxRow Row(int second, string id, Priority priority = Priority.Medium, string contact = "Ana") =>
        new(Step(Noon.AddSeconds(second), id, priority), contact, Channel.Mail);
}
