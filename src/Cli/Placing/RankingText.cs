using System.Text.Json.Nodes;
using Farberth.Monitoring.Site;
using Farberth.Planning.Placement;
using Farberth.Service;
using static System.FormattableString;

namespace Farberth.Cli.Placing;

/// <summary>The slips for one boat, for people and for machines.</summary>
static class RankingText
{
    public static IEnumerable<string> Lines(SiteDefinition site, Arrival arrival, SlipOffers ranked) =>
    [
        $"Site {site.Name}: {ranked.Offers.Count} of {site.Slips.Count} slips for {arrival.Boat.Name}, beside those who are present; the best first",
        "",
        "  slip         outlets                        lowest V  at           when",
        .. ranked.Offers.Select(offer => Invariant(
            $"  {Paragraph.Fit(offer.Berth.Slip, 12)} {Paragraph.Fit(Outlets(offer.Berth), 30)} {Volts(offer),8}  {Paragraph.Fit(offer.Place, 12)} {Paragraph.Fit($"{offer.When}", 16)} {(arrival.HasWish && offer.MeetsWishes ? "its wish" : "")}").TrimEnd()),
        .. ranked.Refusals.SelectMany(refusal => Paragraph.Lines($"not {refusal.Slip}: {refusal.Why}", "  ")),
        "",
        .. Paragraph.Lines("Lowest V: of the whole dock, in the worst hour while the boat is there, by expected loads. A boat may draw more."),
        Caution.Text,
    ];

    public static string Json(SiteDefinition site, string boat, SlipOffers ranked) => new JsonObject
    {
        ["site"] = site.Name,
        ["boat"] = boat,
        ["berths"] = new JsonArray([.. ranked.Offers.Select(offer => new JsonObject
        {
            ["slip"] = offer.Berth.Slip,
            ["outlets"] = PlacementJson.Outlets(offer.Berth),
            ["lowest-volts"] = double.IsFinite(offer.LowestVolts) ? Math.Round(offer.LowestVolts, 2) : null,
            ["at"] = offer.Place,
            ["when"] = $"{offer.When}",
            ["meets-wishes"] = offer.MeetsWishes,
            ["why"] = offer.Why,
        })]),
        ["refused"] = new JsonArray([.. ranked.Refusals.Select(PlacementJson.Refusal)]),
    }.ToJsonString(PlacementJson.Writing);

    static string Outlets(Berth berth) => berth.Outlets.Count == 0 ? "none" : string.Join(", ", berth.Outlets);

    static string Volts(SlipOffer offer) => double.IsFinite(offer.LowestVolts) ? Invariant($"{offer.LowestVolts:0.0}") : "";
}
