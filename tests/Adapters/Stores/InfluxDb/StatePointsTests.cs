using System.Text;
using Farberth.Adapters.Stores.InfluxDb;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Wire;

namespace Farberth.Adapters.Tests.Stores.InfluxDb;

/// <summary>What the service says of a dock, from the monitor's own messages to lines.</summary>
public class StatePointsTests
{
    static readonly DateTimeOffset Start = DateTimeOffset.Parse("2027-07-17T15:00:00Z");

    readonly SiteDefinition site = StoredSite.Definition();

    [Fact]
    public void A_state_gives_the_dock_each_leg_of_each_pedestal_and_each_cable()
    {
        var lines = Lines(Monitored()).ToList();
        Assert.All(lines, line => Assert.Equal((Start.AddSeconds(3) - DateTimeOffset.UnixEpoch).Ticks * 100, line.Nanoseconds));
        Assert.Equal(["cable", "cable", "dock", "estimate", "estimate", "estimate", "estimate"], lines.Select(line => line.Measurement).Order());
        var far = lines.Single(line => line.Tags.Contains(("pedestal", "G2")) && line.Tags.Contains(("leg", "L1")));
        Assert.Equal([("dock", "G"), ("leg", "L1"), ("pedestal", "G2"), ("site", "gullhaven")], far.Tags);
        Assert.Equal(["volts", "volts_sd", "amps"], far.Fields.Select(field => field.Name));
        Assert.Equal(115.2, (double)far.Fields[0].Value, 0.5); // what its meter said
        Assert.Equal(["kva", "load", "hot_spot_celsius", "alarms_standing"], lines.Single(line => line.Measurement == "dock").Fields.Select(field => field.Name));
    }

    [Fact]
    public void A_step_of_an_alarm_has_its_place_in_tags_and_its_state_in_fields()
    {
        var raised = Assert.Single(Lines(Alarm("G.G2.A.overload", """{"id":"G.G2.A.overload","state":"unacknowledged","priority":"high"}""")));
        Assert.Equal([("dock", "G"), ("kind", "overload"), ("outlet", "A"), ("pedestal", "G2"), ("site", "gullhaven")], raised.Tags);
        Assert.Equal([("priority", "high"), ("state", "unacknowledged"), ("standing", true)], raised.Fields);
        var gone = Assert.Single(Lines(Alarm("G.transformer-overload", "")));
        Assert.Equal([("dock", "G"), ("kind", "transformer-overload"), ("site", "gullhaven")], gone.Tags);
        Assert.Equal([("state", "normal"), ("standing", false)], gone.Fields);
    }

    [Fact]
    public void Requests_and_forecasts_are_not_kept() =>
        Assert.Empty(Lines(new RecordedMessage(Start, new WireMessage("farberth/v1/gullhaven/slip/G-1/advice", "{}"u8.ToArray()))));

    /// <summary>The state that a monitor publishes three seconds after both pedestals were heard.</summary>
    RecordedMessage Monitored()
    {
        var monitor = new SiteMonitor(site);
        monitor.Take(StoredSite.Reading(Start, "G1", 119.1, 4));
        monitor.Take(StoredSite.Reading(Start, "G2", 115.2, 22));
        var step = monitor.Advance(Start.AddSeconds(3)).Last();
        return new RecordedMessage(step.Now, Outgoing.Of(site.Name, step).First());
    }

    static RecordedMessage Alarm(string id, string payload) =>
        new(Start, new WireMessage($"farberth/v1/gullhaven/alarm/{id}", Encoding.UTF8.GetBytes(payload), Retain: true));

    IEnumerable<ParsedLine> Lines(RecordedMessage message) => new StatePoints(site.Name).Of(message).Select(point => ParsedLine.Of(point.Line()));
}
