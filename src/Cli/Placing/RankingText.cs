using System.Text.Json.Nodes;
using Farberth.Monitoring.Site;
using Farberth.Planning.Placement;
using Farberth.Service;
using static System.FormattableString;

namespace Farberth.Cli.Placing;

/// <summary>The slips for one boat, for people and for machines.</summary>
static class RankingText
{
    public static IEnumerable<string> Lines(SiteDefinition site, string boat, IReadOnlyList<RankedBerth> ranked)
    {
        yield return $"Site {site.Name}: {ranked.Count(berth => berth.IsGood)} ways to lie for {boat}, beside those who are present";
        yield return "";
        yield return "  slip         outlets                        lowest V  at           when";
        foreach (var berth in ranked.Where(berth => berth.IsGood))
            yield return Invariant($"  {Paragraph.Fit(berth.Berth.Slip, 12)} {Paragraph.Fit(string.Join(", ", berth.Berth.Outlets), 30)} {Volts(berth),8}  {Paragraph.Fit(berth.Place, 12)} {berth.When}").TrimEnd();
        foreach (var line in ranked.Where(berth => !berth.IsGood).SelectMany(berth => Paragraph.Lines($"not {berth.Berth.Slip}: {berth.Why}", "  ")))
            yield return line;
        yield return Caution.Text;
    }

    public static string Json(SiteDefinition site, string boat, IReadOnlyList<RankedBerth> ranked) => new JsonObject
    {
        ["site"] = site.Name,
        ["boat"] = boat,
        ["berths"] = new JsonArray([.. ranked.Select(berth => new JsonObject
        {
            ["slip"] = berth.Berth.Slip,
            ["outlets"] = PlacementJson.Outlets(berth.Berth),
            ["good"] = berth.IsGood,
            ["lowest-volts"] = double.IsFinite(berth.LowestVolts) ? Math.Round(berth.LowestVolts, 2) : null,
            ["at"] = berth.Place,
            ["when"] = berth.When,
            ["why"] = berth.Why,
        })]),
    }.ToJsonString();

    static string Volts(RankedBerth berth) => double.IsFinite(berth.LowestVolts) ? Invariant($"{berth.LowestVolts:0.0}") : "";
}
