using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Study;

namespace Farberth.Cli.Studying;

/// <summary>A study for machines.</summary>
static class StudyJson
{
    static readonly JsonSerializerOptions Writing = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static string Of(SiteDefinition site, IReadOnlyList<DockReport> reports) => new JsonObject
    {
        ["site"] = site.Name,
        ["docks"] = new JsonObject(reports.Select(report => KeyValuePair.Create<string, JsonNode?>(report.Loaded.Dock.Name, Dock(site, report)))),
    }.ToJsonString(Writing);

    static JsonObject Dock(SiteDefinition site, DockReport report) => new()
    {
        ["converged"] = report.Loaded.Flow.Result.Converged,
        ["kva"] = Math.Round(report.Loaded.Flow.SourceVoltAmperes / 1000, 2),
        ["loss-watts"] = Math.Round(report.Loaded.Flow.LossWatts, 1),
        ["transformer-used"] = Share(report.Loaded.Used(LimitKind.Transformer)),
        ["feeder-breaker-used"] = Share(report.Loaded.Used(LimitKind.FeederBreaker)),
        ["demand-table"] = new JsonObject
        {
            ["receptacles"] = report.Demand.Receptacles,
            ["left-out"] = report.Demand.LeftOut,
            ["connected-kva"] = Math.Round(report.Demand.ConnectedVoltAmperes / 1000, 3),
            ["factor"] = report.Demand.Share * report.Demand.MeterShare,
            ["kva"] = Math.Round(report.Demand.VoltAmperes / 1000, 3),
            ["amps-per-leg"] = Math.Round(report.Demand.AmpsPerLeg, 1),
        },
        ["pedestals"] = new JsonObject(report.Loaded.Faults.Select(fault => KeyValuePair.Create<string, JsonNode?>(fault.Pedestal, Pedestal(site, report.Loaded, fault)))),
        ["hosting"] = new JsonArray([.. report.Room.Select(Hosting)]),
        ["upgrades"] = new JsonArray([.. report.Upgrades.Select(Upgrade)]),
    };

    static JsonObject Pedestal(SiteDefinition site, DockStudy study, PedestalFault fault) => new()
    {
        ["volts"] = new JsonObject(site.Supply.Legs.Select(leg => KeyValuePair.Create<string, JsonNode?>(
            leg.ToString(), Math.Round(study.Flow.State.VoltsAt(fault.Pedestal, leg).Magnitude, 2)))),
        ["cable-used"] = Share(study.Loading(fault.Pedestal).Share),
        ["loop-milliohms"] = Math.Round(fault.LoopOhms.Magnitude * 1000, 2),
        ["least-fault-amps"] = Math.Round(fault.LeastAmps),
        ["most-fault-amps"] = Math.Round(fault.MostAmps),
        ["outlet-opens-seconds"] = Seconds(fault.OutletSeconds),
        ["feeder-opens-seconds"] = Seconds(fault.FeederSeconds),
    };

    static JsonObject Hosting(HostingCapacity hosting) => new()
    {
        ["cord"] = hosting.Boat.Cords[0].ToString(),
        ["air-conditioners"] = hosting.Boat.AirConditioners,
        ["outlets"] = hosting.FreeOutlets,
        ["boats"] = hosting.Boats,
        ["boats-from-far-end"] = hosting.BoatsFromFarEnd,
        ["first-limit"] = hosting.First is { } first ? LimitWords.Name(first) : null,
    };

    static JsonObject Upgrade(UpgradeEffect effect) => new()
    {
        ["change"] = effect.Upgrade.What,
        ["lowest-volts"] = Math.Round(effect.LowestVolts, 2),
        ["gain-volts"] = Math.Round(effect.GainVolts, 3),
        ["saved-watts"] = Math.Round(effect.SavedWatts, 1),
        ["carries-more"] = Math.Round(effect.MoreShare, 3),
        ["most-fault-amps"] = Math.Round(effect.Faults.Max(fault => fault.MostAmps)),
        ["least-fault-amps"] = Math.Round(effect.Faults.Min(fault => fault.LeastAmps)),
        ["slowest-outlet-seconds"] = Seconds(effect.Faults.Max(fault => fault.OutletSeconds)),
        ["slowest-feeder-seconds"] = Seconds(effect.Faults.Max(fault => fault.FeederSeconds)),
    };

    static JsonNode? Share(double? share) => share is { } known ? Math.Round(known, 4) : null;

    /// <summary>Null: never, or no breaker.</summary>
    static JsonNode? Seconds(double? seconds) => seconds is { } known && double.IsFinite(known) ? Math.Round(known, 2) : null;
}
