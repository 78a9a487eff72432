using System.Text.Json.Nodes;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;

namespace Farberth.Adapters.Tests.Stores.Journal;

/// <summary>Events of an invented dock.</summary>
static class Given
{
    public static readonly DateTimeOffset Noon = new(2027, 7, 17, 12, 0, 0, TimeSpan.Zero);

    public static Alarm Overload(AlarmState state = AlarmState.Unacknowledged, string pedestal = "C12", string? slip = "C-23", string dock = "C") => new(
        $"{dock}.{pedestal}.A.overload", AlarmKind.Overload, state, Priority.Medium, Noon, new(dock, null, pedestal, "A", slip), Audience.Everybody,
        $"Outlet A of pedestal {pedestal} carries 27.4 A and may carry 24.0 A for long.", new JsonObject { ["amps"] = 27.4, ["limit"] = 24.0 });

    public static AlarmStepped Step(int second, Alarm alarm, AlarmState from = AlarmState.Normal, string reason = "the limit was passed") =>
        new(new AlarmTransition(Noon.AddSeconds(second), from, alarm, reason));

    public static AdviceChanged Asked(int second, string slip = "C-23", string? takenBack = null) => new(
        new(Noon.AddSeconds(second), new(Noon.AddSeconds(second), slip, Ask.Shed, 7.5, "Please switch off about 7.5 A.", Noon.AddHours(1), "the cable is near its limit"), takenBack), "C");

    public static JournalEntry Entry(JournalEvent happened, params string[] contacts) =>
        new(happened, [.. contacts.Select(contact => new OutboxRow(happened, contact, Channel.Mail))]);

    public static JournalBatch Batch(params JournalEntry[] entries) => new() { Entries = entries };
}
