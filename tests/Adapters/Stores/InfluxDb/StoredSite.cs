using System.Text;
using System.Text.Json.Nodes;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Tests.Stores.InfluxDb;

/// <summary>A small dock and what its pedestals say.</summary>
static class StoredSite
{
    public static SiteDefinition Definition()
    {
        var result = SiteFile.Read(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "data/acceptance/gullhaven.yaml")));
        Assert.Empty(result.Mistakes);
        return result.Site!;
    }

    public static RecordedMessage Message(DateTimeOffset at, string topic, string payload) =>
        new(at, new WireMessage("farberth/v1/gullhaven/" + topic, Encoding.UTF8.GetBytes(payload)));

    /// <summary>A reading of two decimals, which every database of numbers gives back as they were.</summary>
    public static RecordedMessage Reading(DateTimeOffset time, string pedestal, double volts, double amps) =>
        Message(time, $"pedestal/{pedestal}/reading", new JsonObject
        {
            ["time"] = time.ToString("O"),
            ["volts"] = new JsonObject { ["L1"] = volts },
            ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps } } },
        }.ToJsonString());
}
