using System.Text.Json.Nodes;
using Farberth.Monitoring.Outages;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>Where an outage is, as a place and in words.</summary>
static class OutagePlace
{
    /// <summary>The cable, or the dock as a whole.</summary>
    public static Place Of(DockDefinition dock, string point) => point == DockDefinition.SourcePoint ? new(dock.Name) : new(dock.Name, point);

    public static string Words(DockDefinition dock, string point) =>
        IsAll(dock, point) ? $"Dock {dock.Name}, from the source on," : $"Dock {dock.Name}, from {point} outwards,";

    public static string Suspect(DockDefinition dock, string point) =>
        dock.Cables.FirstOrDefault(cable => cable.To == point) is { } cable ? $"the cable from {cable.From} to {cable.To}" : "the source";

    public static JsonObject Evidence(Outage outage) => new()
    {
        ["pedestals"] = new JsonArray([.. outage.Pedestals.Select(name => JsonValue.Create(name))]),
        ["no-volts"] = new JsonArray([.. outage.Dead.Select(leg => JsonValue.Create(leg.ToString()))]),
        ["first-sign"] = outage.Since.ToString("O"),
    };

    static bool IsAll(DockDefinition dock, string point) =>
        point == DockDefinition.SourcePoint || dock.Cables.All(cable => (cable.From == DockDefinition.SourcePoint) == (cable.To == point));
}
