using System.Text.Json.Nodes;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Service.Views;

namespace Farberth.Service.Office.Bench;

/// <summary>A series as a chart: for each leg its mean as a line, and around it what lies between least and most.</summary>
static class History
{
    static readonly string[] Dashes = ["solid", "dashed", "dotted"];

    public static string Options(HistorySeries read, string unit, Func<SeriesPoint, IReadOnlyDictionary<string, Spread>> of, Showing showing)
    {
        var legs = read.Points.SelectMany(point => of(point).Where(leg => leg.Value.IsThere)).Select(leg => leg.Key).Distinct().Order(StringComparer.Ordinal).ToList();
        var series = new JsonArray();
        foreach (var (leg, at) in legs.Select((leg, at) => (leg, at)))
        {
            var points = read.Points.Where(point => of(point).TryGetValue(leg, out var there) && there.IsThere).Select(point => (At: Clock(point.At, showing), Spread: of(point)[leg])).ToList();
            series.Add(new JsonObject
            {
                ["name"] = leg,
                ["type"] = "line",
                ["symbol"] = "none",
                ["lineStyle"] = new JsonObject { ["color"] = "~ink", ["width"] = 1.5, ["type"] = Dashes[at % Dashes.Length] },
                ["itemStyle"] = new JsonObject { ["color"] = "~ink" },
                ["data"] = new JsonArray([.. points.Select(point => new JsonArray(point.At, Math.Round(point.Spread.Mean, 2)))]),
            });
            series.Add(new JsonObject
            {
                ["name"] = $"{leg} ±",
                ["type"] = "custom",
                ["renderItem"] = "~band",
                ["silent"] = true,
                ["itemStyle"] = new JsonObject { ["color"] = "~quiet", ["opacity"] = 0.3 },
                ["data"] = new JsonArray([.. points.Zip(points.Skip(1)).Select(pair => new JsonArray(
                    pair.First.At, pair.First.Spread.Least, pair.First.Spread.Most, pair.Second.At, pair.Second.Spread.Least, pair.Second.Spread.Most))]),
            });
        }
        var (from, to) = Ends(read.Points.SelectMany(point => of(point).Values).Where(spread => spread.IsThere));
        return new JsonObject
        {
            ["grid"] = new JsonObject { ["left"] = 52, ["right"] = 20, ["top"] = 36, ["bottom"] = 30 },
            ["legend"] = new JsonObject { ["top"] = 4, ["data"] = new JsonArray([.. legs.Select(leg => (JsonNode)leg)]), ["textStyle"] = Ink("~ink") },
            ["tooltip"] = new JsonObject { ["trigger"] = "axis" },
            ["useUTC"] = true,
            ["xAxis"] = new JsonObject { ["type"] = "time", ["axisLabel"] = Ink("~soft") },
            ["yAxis"] = new JsonObject { ["type"] = "value", ["name"] = unit, ["min"] = from, ["max"] = to, ["axisLabel"] = Ink("~soft"), ["nameTextStyle"] = Ink("~soft"), ["splitLine"] = new JsonObject { ["lineStyle"] = Ink("~rule") } },
            ["series"] = series,
            ["animation"] = false,
        }.ToJsonString();
    }

    /// <summary>Whole numbers around all that is there, two apart at least: left to itself the chart draws volts that stand still from 40 to 180.</summary>
    internal static (double From, double To) Ends(IEnumerable<Spread> there)
    {
        var (least, most) = (double.PositiveInfinity, double.NegativeInfinity);
        foreach (var one in there)
            (least, most) = (Math.Min(least, one.Least), Math.Max(most, one.Most));
        var (from, to) = (Math.Floor(least), Math.Ceiling(most));
        return !double.IsFinite(least) ? (0, 1) : to - from < 2 ? (Math.Max(0, from - 1), to + 1) : (from, to);
    }

    /// <summary>The marina's own clock, as if it were UTC: the chart shows UTC.</summary>
    static double Clock(DateTimeOffset at, Showing showing) => new DateTimeOffset(showing.Local(at).DateTime, TimeSpan.Zero).ToUnixTimeMilliseconds();

    static JsonObject Ink(string colour) => new() { ["color"] = colour };
}
