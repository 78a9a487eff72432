using Farberth.Monitoring.Site;
using Farberth.Planning.Placement;
using Farberth.Service;
using static System.FormattableString;

namespace Farberth.Cli.Placing;

/// <summary>A plan for people, at most 100 columns wide.</summary>
static class PlacementText
{
    public static string Progress(PlacementProgress at) => at switch
    {
        PlacementProgress.FirstPlan first => $"a first plan: {first.Boats} of {first.Of} boats looked at",
        PlacementProgress.Places places => $"places: {places.Without} boats without one, no plan has fewer than {places.Least}",
        PlacementProgress.Sag sag => Invariant($"lowest volts: {sag.SagVolts:0.0} V of sag, no plan below {sag.BoundVolts:0.0} V"),
        PlacementProgress.Rest => "wishes, and the volts of the other docks",
        _ => "putting the plan into words",
    };

    public static IEnumerable<string> Lines(SiteDefinition site, ArrivalList list, PlacementAnswer answer) =>
    [
        Invariant($"Site {site.Name}: {answer.Placed.Count} of {list.Arrivals.Count} boats placed beside {list.Present.Count} present; up to {list.Outdoor.HighestCelsius:0.#} °C outdoors"),
        .. Proof(answer.Proof),
        .. answer.Docks.Where(dock => dock.IsBelowBandBefore).SelectMany(dock => Paragraph.Lines(
            Invariant($"Dock {dock.Dock} is below its band ({site.Limits.Volts.LowA:0.#} V) before any of these boats comes: {dock.Before.Volts:0.0} V at {dock.Before.Place} on {dock.Before.When}, by those who lie there. No boat was placed where it would make that worse")
            + (answer.Docks.All(other => other.IsBelowBandBefore) ? "." : "; the most sag above is that of the other docks."))),
        "",
        "  boat             slip        outlets                        lowest V  at          when",
        .. answer.Placed.SelectMany(Placed),
        .. answer.Moved.SelectMany(moved => Paragraph.Lines(
            $"{moved.Boat} moves from {moved.FromSlip} to {moved.Berth.Slip} ({Outlets(moved.Berth)}); it agreed to.", "  ")),
        .. answer.Refused.SelectMany(Refused),
        "",
        "  dock             lowest V  at           when               before  at           when",
        .. answer.Docks.Select(dock => Invariant(
            $"  {Paragraph.Fit(dock.Dock, 16)} {dock.Under.Volts,8:0.0}  {Paragraph.Fit(dock.Under.Place, 12)} {Paragraph.Fit(dock.Under.When, 16)} {dock.Before.Volts,8:0.0}  {Paragraph.Fit(dock.Before.Place, 12)} {dock.Before.When}")),
        "",
        .. Paragraph.Lines("Expected loads, not nameplates: what boats of that size draw by the hour and the heat. A boat may draw more. "
            + "Sizes are compared as stated, with no margin for fenders, wind or tide: the harbormaster decides."),
        Caution.Text,
    ];

    static IEnumerable<string> Proof(PlacementProof proof) => Paragraph.Lines(
        Invariant($"Most sag: {proof.SagVolts:0.0} V below the highest no-load volts of the site, in the worst hour, by the full load flow. ")
        + (proof.IsProven ? "Proven: no plan places more boats, and none sags less by more than 1 % or 0.02 V, by a simplified model of the docks that is right to some hundredths of a volt."
            : proof.BoundVolts > 0 ? Invariant($"Not proven the best: no plan sags less than {proof.BoundVolts:0.0} V, but one between the two is not ruled out. More --seconds may find a better one.")
            : "The search ended before it was known how good a plan can be. More --seconds may find a better one."));

    static IEnumerable<string> Placed(PlacedBoat boat) =>
    [
        boat.Berth.Dock is null
            ? $"  {Paragraph.Fit(boat.Arrival.Boat.Name, 16)} {Paragraph.Fit(boat.Berth.Slip, 11)} none"
            : Invariant($"  {Paragraph.Fit(boat.Arrival.Boat.Name, 16)} {Paragraph.Fit(boat.Berth.Slip, 11)} {Paragraph.Fit(Outlets(boat.Berth), 30)} {boat.LowestVolts,8:0.0}  {Paragraph.Fit(boat.Place, 11)} {boat.When}").TrimEnd(),
        .. Paragraph.Lines(boat.Why, "      "),
    ];

    static IEnumerable<string> Refused(RefusedBoat boat) =>
    [
        $"  {Paragraph.Fit(boat.Arrival.Boat.Name, 16)} no slip",
        .. Paragraph.Lines(boat.Why, "      "),
        .. Paragraph.Lines(string.Join("; ", boat.Slips.GroupBy(slip => slip.Reason).Select(slips => $"{slips.Count()} {Words(slips.Key)}")) + ".", "      "),
    ];

    static string Words(SlipRefusalReason reason) => reason switch
    {
        SlipRefusalReason.Power => "slips without the power",
        SlipRefusalReason.TakenByArrival => "taken by other arrivals",
        _ => "too small, without the plug, or occupied",
    };

    static string Outlets(Berth berth) => berth.Outlets.Count == 0 ? "none" : string.Join(", ", berth.Outlets);
}
