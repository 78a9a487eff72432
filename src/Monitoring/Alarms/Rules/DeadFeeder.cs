using System.Text.Json.Nodes;
using Farberth.Monitoring.Outages;
using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// A supply lost from one point of the feeder outwards. Where a pedestal says that it has no volts it is known; where all have only
/// fallen silent together it is likely, since the feeder also feeds their meters.
/// </summary>
static class DeadFeeder
{
    const Audience Operators = Audience.Electrician | Audience.Harbormaster;

    /// <summary>A finding for every point at which it can be.</summary>
    public static IEnumerable<Finding> Judge(DockPicture picture)
    {
        foreach (var point in picture.Outages.Points)
            if (picture.Outages.At(point) is var outage && (outage != null || picture.Recalled.At(AlarmKind.SupplyLost, PointOf(picture.Dock, point))))
                yield return Of(picture, point, outage);
    }

    static string PointOf(DockDefinition dock, string point) => point == DockDefinition.SourcePoint ? dock.Name : point;

    static Finding Of(DockPicture picture, string point, Outage? outage)
    {
        var boats = outage == null ? 0 : BoatsBeyond(picture, outage);
        var isKnown = outage is { Dead.Count: > 0 } && boats > 0;
        return new(
            PlaceOf(picture.Dock, point),
            outage is not { IsSettled: true } ? -1 : isKnown ? 1 : LongestSilence(picture, outage),
            Priorities.Of(Consequence.Damage, minutesToRespond: isKnown ? 10 : 60),
            isKnown ? Audience.Everybody : Operators,
            () => outage == null ? new("The feeder is alive again.", []) : new(
                isKnown ? Dead(picture.Dock, outage, boats) : Silent(picture.Dock, outage), Evidence(outage)))
        {
            Beyond = point,
            IsPending = outage is { IsSettled: false },
        };
    }

    /// <summary>The cable, or the dock as a whole.</summary>
    static Place PlaceOf(DockDefinition dock, string point) =>
        point == DockDefinition.SourcePoint ? new(dock.Name) : new(dock.Name, point);

    static int BoatsBeyond(DockPicture picture, Outage outage) => outage.Pedestals
        .SelectMany(name => picture.Image.Pedestals[name].Outlets.Values)
        .Count(outlet => outlet.BoatPresent != false && outage.Since - outlet.LastDrew <= SupplyLost.RecentlyDrew);

    static double LongestSilence(DockPicture picture, Outage outage)
    {
        var patience = picture.Site.AlarmTimings[AlarmKind.MeterSilent].RaiseAfter;
        return outage.Pedestals.Max(name => MeterSilent.Margin(picture.Image.Pedestals[name], patience));
    }

    static string Dead(DockDefinition dock, Outage outage, int boats) => Invariant(
        $"{Words(dock, outage.Point)} has no volts on {string.Join(" and ", outage.Dead)}, at all {outage.Pedestals.Count} pedestals; {boats} outlets were in use. On board, inverters may now be emptying the batteries. A licensed electrician looks at {Suspect(dock, outage.Point)} and at what protects it, and finds out why it went before it is switched on again.");

    static string Silent(DockDefinition dock, Outage outage) => Invariant(
        $"{Words(dock, outage.Point)} is silent: all {outage.Pedestals.Count} pedestals stopped together, so the feeder is probably dead there, or their network is. See whether the outlets have power; if they have none, a licensed electrician looks at {Suspect(dock, outage.Point)} and at what protects it.");

    static string Words(DockDefinition dock, string point) =>
        IsAll(dock, point) ? $"Dock {dock.Name}, from the source on," : $"Dock {dock.Name}, from {point} outwards,";

    static string Suspect(DockDefinition dock, string point) =>
        dock.Cables.FirstOrDefault(cable => cable.To == point) is { } cable ? $"the cable from {cable.From} to {cable.To}" : "the source";

    static bool IsAll(DockDefinition dock, string point) =>
        point == DockDefinition.SourcePoint || dock.Cables.All(cable => (cable.From == DockDefinition.SourcePoint) == (cable.To == point));

    static JsonObject Evidence(Outage outage) => new()
    {
        ["pedestals"] = new JsonArray([.. outage.Pedestals.Select(name => JsonValue.Create(name))]),
        ["no-volts"] = new JsonArray([.. outage.Dead.Select(leg => JsonValue.Create(leg.ToString()))]),
        ["first-sign"] = outage.Since.ToString("O"),
    };
}
