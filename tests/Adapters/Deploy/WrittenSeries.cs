using System.Text;
using Farberth.Adapters.Stores.InfluxDb;
using Farberth.Adapters.Tests.Stores.InfluxDb;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Wire;

namespace Farberth.Adapters.Tests.Deploy;

/// <summary>Every measurement with its tags and fields, from the lines that are really written for messages that say everything.</summary>
static class WrittenSeries
{
    static readonly DateTimeOffset Now = DateTimeOffset.Parse("2027-07-17T15:04:06Z");

    public static SortedDictionary<string, (SortedSet<string> Tags, SortedSet<string> Fields)> All()
    {
        var all = new SortedDictionary<string, (SortedSet<string> Tags, SortedSet<string> Fields)>(StringComparer.Ordinal);
        foreach (var line in Points().Select(point => ParsedLine.Of(point.Line())))
        {
            if (!all.TryGetValue(line.Measurement, out var known))
                all[line.Measurement] = known = (new(StringComparer.Ordinal), new(StringComparer.Ordinal));
            known.Tags.UnionWith(line.Tags.Select(tag => tag.Name));
            known.Fields.UnionWith(line.Fields.Select(field => field.Name));
        }
        return all;
    }

    static IEnumerable<Point> Points()
    {
        var site = StoredSite.Definition();
        var (readings, states) = (new ReadingPoints(site), new StatePoints(site.Name));
        RecordedMessage[] said =
        [
            Said("pedestal/G1/reading", """
                {"time":"NOW","volts":{"L1":119},"outlets":{"A":{"amps":{"L1":9},"watts":{"L1":900},"celsius":31,"leakage-ma":2,"closed":true}}}
                """),
            Said("pedestal/G2/reading", """{"time":"NOW","volts":{"L1":118,"L2":119}}"""),
            Said("pedestal/G1/link", """{"time":"NOW","online":true}"""),
            Said("weather", """{"time":"NOW","celsius":34,"humidity":0.5}"""),
        ];
        var monitor = new SiteMonitor(site);
        foreach (var message in said)
            monitor.Take(message);
        var step = monitor.Advance(Now.AddSeconds(2)).Last();
        RecordedMessage[] told =
        [
            new(step.Now, Outgoing.Of(site.Name, step).First()),
            new(step.Now, new WireMessage("farberth/v1/gullhaven/alarm/G.G1.A.overload", Encoding.UTF8.GetBytes("""{"state":"acknowledged","priority":"low"}"""))),
        ];
        return [.. said.SelectMany(readings.Of), .. told.SelectMany(states.Of)];
    }

    static RecordedMessage Said(string topic, string payload) =>
        StoredSite.Message(Now, topic, payload.Replace("NOW", Now.ToString("O"), StringComparison.Ordinal));
}
