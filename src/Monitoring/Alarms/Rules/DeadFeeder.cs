using System.Text.Json.Nodes;
using Farberth.Monitoring.Outages;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;

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
            () => outage == null ? new([Sentence.Of("The feeder is alive again.")], []) : new(
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

    static IReadOnlyList<Sentence> Dead(DockDefinition dock, Outage outage, int boats)
    {
        var (legs, pedestals) = (string.Join(", ", outage.Dead), outage.Pedestals.Count);
        return
        [
            IsAll(dock, outage.Point)
                ? Sentence.Of("Dock {0}, from the source on, has no volts on {1}, at all {2} pedestals; {3} outlets were in use.", dock.Name, legs, pedestals, boats)
                : Sentence.Of("Dock {0}, from {1} outwards, has no volts on {2}, at all {3} pedestals; {4} outlets were in use.", dock.Name, outage.Point, legs, pedestals, boats),
            Sentence.Of("On board, inverters may now be emptying the batteries."),
            CableTo(dock, outage.Point) is { } cable
                ? Sentence.Of("A licensed electrician looks at the cable from {0} to {1} and at what protects it, and finds out why it went before it is switched on again.", cable.From, cable.To)
                : Sentence.Of("A licensed electrician looks at the source and at what protects it, and finds out why it went before it is switched on again."),
        ];
    }

    static IReadOnlyList<Sentence> Silent(DockDefinition dock, Outage outage) =>
    [
        IsAll(dock, outage.Point)
            ? Sentence.Of("Dock {0}, from the source on, is silent: all {1} pedestals stopped together, so the feeder is probably dead there, or their network is.", dock.Name, outage.Pedestals.Count)
            : Sentence.Of("Dock {0}, from {1} outwards, is silent: all {2} pedestals stopped together, so the feeder is probably dead there, or their network is.", dock.Name, outage.Point, outage.Pedestals.Count),
        CableTo(dock, outage.Point) is { } cable
            ? Sentence.Of("See whether the outlets have power; if they have none, a licensed electrician looks at the cable from {0} to {1} and at what protects it.", cable.From, cable.To)
            : Sentence.Of("See whether the outlets have power; if they have none, a licensed electrician looks at the source and at what protects it."),
    ];

    static CableDefinition? CableTo(DockDefinition dock, string point) => dock.Cables.FirstOrDefault(cable => cable.To == point);

    static bool IsAll(DockDefinition dock, string point) =>
        point == DockDefinition.SourcePoint || dock.Cables.All(cable => (cable.From == DockDefinition.SourcePoint) == (cable.To == point));

    static JsonObject Evidence(Outage outage) => new()
    {
        ["pedestals"] = new JsonArray([.. outage.Pedestals.Select(name => JsonValue.Create(name))]),
        ["no-volts"] = new JsonArray([.. outage.Dead.Select(leg => JsonValue.Create(leg.ToString()))]),
        ["first-sign"] = outage.Since.ToString("O"),
    };
}
