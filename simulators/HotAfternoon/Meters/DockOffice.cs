using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon;

/// <summary>Says which slips have a boat: all of them at the start, then each change.</summary>
sealed class DockOffice(DockRun[] docks, Topics topics, Func<DateTime, DateTimeOffset> utc, MessagesUnderWay arrivals)
{
    readonly Dictionary<string, bool> said = [];

    public void Step(DateTime local)
    {
        foreach (var (slip, present) in docks.SelectMany(dock => dock.Presence(local)))
        {
            if (said.TryGetValue(slip, out var before) && before == present)
                continue;
            said[slip] = present;
            var payload = Json.Object(writer =>
            {
                writer.WriteTime(utc(local));
                writer.WriteBoolean("present", present);
            });
            var message = new WireMessage(topics.Boat(slip), payload, Retain: true);
            arrivals.Add(new RecordedMessage(utc(local).AddSeconds(0.3), message));
        }
    }
}
