using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Farberth.Monitoring.Site;

namespace Farberth.Cli.Checking;

/// <summary>What became of a site file, for machines: its mistakes, or its docks and their fault currents.</summary>
static class SiteSummaryJson
{
    static readonly JsonSerializerOptions Writing = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static string Of(SiteFileResult result) => (result.Site is { } site ? Good(site) : Bad(result)).ToJsonString(Writing);

    static JsonObject Bad(SiteFileResult result) => new()
    {
        ["good"] = false,
        ["mistakes"] = new JsonArray([.. result.Mistakes.Select(mistake => new JsonObject
        {
            ["line"] = mistake.Line,
            ["column"] = mistake.Column,
            ["path"] = mistake.Path,
            ["message"] = mistake.Message,
        })]),
    };

    static JsonObject Good(SiteDefinition site) => new()
    {
        ["good"] = true,
        ["site"] = site.Name,
        ["supply"] = site.Supply.Name,
        ["docks"] = new JsonObject(site.Docks.Values.Select(dock =>
            KeyValuePair.Create<string, JsonNode?>(dock.Name, Dock(site, dock)))),
    };

    static JsonObject Dock(SiteDefinition site, DockDefinition dock) => new()
    {
        ["pedestals"] = new JsonObject(PedestalFaults.Of(site, dock).Select(at =>
            KeyValuePair.Create<string, JsonNode?>(at.Fault.Pedestal, new JsonObject
            {
                ["metres"] = Math.Round(at.Metres, 2),
                ["cable"] = at.Cable.Conductor.Designation,
                ["sets"] = at.Cable.Sets,
                ["ampacity-interpolated"] = at.Cable.AmpacityAmps is null && at.Cable.Conductor.AmpacityIsInterpolated,
                ["loop-milliohms"] = Math.Round(at.Fault.LoopOhms.Magnitude * 1000, 2),
                ["least-fault-amps"] = Math.Round(at.Fault.LeastAmps),
                ["most-fault-amps"] = Math.Round(at.Fault.MostAmps),
            }))),
    };
}
