using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon;

/// <summary>How one pedestal's messages reach the broker: late, twice or not at all; its birth and its last will.</summary>
/// <remarks>
/// A last will is written when the pedestal connects, so its time is that of the connection. The broker sends it a
/// keep-alive and a half after the pedestal has gone: 15 s here.
/// </remarks>
sealed class PedestalLink
{
    static readonly TimeSpan WillAfter = TimeSpan.FromSeconds(15);

    readonly MeterPlan plan;
    readonly SilencePlan[] silences;
    readonly string readingTopic;
    readonly string linkTopic;
    readonly Func<DateTime, DateTimeOffset> utc;
    readonly MessagesUnderWay arrivals;
    readonly NamedRandom random;

    public PedestalLink(
        string pedestal, Scenario scenario, Topics topics, Func<DateTime, DateTimeOffset> utc,
        MessagesUnderWay arrivals, NamedRandom random)
    {
        (plan, this.utc, this.arrivals, this.random) = (scenario.Meters, utc, arrivals, random);
        readingTopic = topics.Reading(pedestal);
        linkTopic = topics.Link(pedestal);
        silences = [.. plan.Silences.Where(silence => silence.Pedestal == pedestal).OrderBy(silence => silence.From)];
        SendLink(scenario.Start, scenario.Start, online: true);
        var connected = scenario.Start;
        foreach (var silence in silences.Where(silence => silence.LinkLost))
        {
            SendLink(silence.From + WillAfter, connected, online: false);
            SendLink(silence.Until, silence.Until, online: true);
            connected = silence.Until;
        }
    }

    public void SendReading(DateTime due, ReadOnlyMemory<byte> payload)
    {
        var lateSeconds = random.Exponential(plan.Lateness.TotalSeconds);
        if (random.Chance(plan.LateShare))
            lateSeconds += random.Between(0, plan.LateBy.TotalSeconds);
        var isLost = random.Chance(plan.DropShare);
        var isTwice = random.Chance(plan.DuplicateShare);
        var twinSeconds = lateSeconds + random.Between(0.2, 5);
        if (isLost || silences.Any(silence => due >= silence.From && due < silence.Until))
            return;
        Send(readingTopic, utc(due) + Milliseconds(lateSeconds), payload, retain: false);
        if (isTwice)
            Send(readingTopic, utc(due) + Milliseconds(twinSeconds), payload, retain: false);
    }

    void SendLink(DateTime at, DateTime written, bool online) => Send(
        linkTopic,
        utc(at),
        Json.Object(writer =>
        {
            writer.WriteBoolean("online", online);
            writer.WriteTime(utc(written));
        }),
        retain: true);

    void Send(string topic, DateTimeOffset at, ReadOnlyMemory<byte> payload, bool retain) =>
        arrivals.Add(new RecordedMessage(at, new WireMessage(topic, payload, retain)));

    static TimeSpan Milliseconds(double seconds) => TimeSpan.FromMilliseconds(Math.Ceiling(seconds * 1000));
}
