using System.Text.Json.Nodes;
using Farberth.Service.Views;
using Farberth.Service.Words;

namespace Farberth.Service.Office.Bench;

/// <summary>The volts along a dock as a chart: for each leg the computed line with its band, and what was measured as points on it.</summary>
static class Profile
{
    /// <summary>Standard deviations either side that hold 95 of 100.</summary>
    const double Sigmas = 1.96;

    /// <summary>V: the axis begins and ends at a round number.</summary>
    const double Round = 5;

    static readonly string[] Dashes = ["solid", "dashed", "dotted"], Shapes = ["circle", "rect", "triangle"];

    /// <summary>In the words of the charting library; "~ink" and its like stand for colours of the page.</summary>
    public static string Options(DockShown dock, BandsShown bands, double nominalVolts, WordBook words)
    {
        var legs = dock.SourceVolts.Keys.Where(leg => leg != "N").ToList();
        var series = new JsonArray();
        foreach (var (leg, at) in legs.Select((leg, at) => (leg, at)))
            foreach (var run in dock.Pedestals.GroupBy(pedestal => pedestal.Run))
            {
                series.Add(Line(dock, leg, at, run));
                series.Add(Band(leg, run));
                series.Add(Points(leg, at, run, words["{0} measured", leg]));
            }
        series.Add(Limits(bands, words));
        var volts = dock.Pedestals.SelectMany(pedestal => pedestal.Computed.Values.Concat(pedestal.Measured.Values)).Concat(legs.Select(leg => dock.SourceVolts[leg])).Append(nominalVolts).Where(one => one > bands.LowB / 2);
        return new JsonObject
        {
            ["grid"] = new JsonObject { ["left"] = 48, ["right"] = 20, ["top"] = 40, ["bottom"] = 44 },
            ["legend"] = new JsonObject { ["top"] = 4, ["data"] = new JsonArray([.. legs.Select(leg => (JsonNode)leg)]), ["textStyle"] = Ink("~ink") },
            ["tooltip"] = new JsonObject { ["trigger"] = "item" },
            ["xAxis"] = Axis(words["metres from the source"], 0, Math.Ceiling(dock.Pedestals.Max(pedestal => pedestal.Metres) / 10) * 10),
            ["yAxis"] = Axis(words["Volts"], Round * Math.Floor((Math.Min(bands.LowB, volts.Min()) - 1) / Round), Round * Math.Ceiling((volts.Max() + 1) / Round)),
            ["series"] = series,
            ["animation"] = false,
        }.ToJsonString();
    }

    static JsonObject Line(DockShown dock, string leg, int at, IEnumerable<PedestalShown> run)
    {
        var before = run.First().Before;
        var from = dock.Pedestals.FirstOrDefault(pedestal => pedestal.Name == before);
        var start = from is null ? Point(0, dock.SourceVolts[leg], "source") : Point(from.Metres, from.Computed.GetValueOrDefault(leg), from.Name);
        return new()
        {
            ["name"] = leg,
            ["type"] = "line",
            ["symbol"] = "none",
            ["lineStyle"] = new JsonObject { ["color"] = "~ink", ["width"] = 1.8, ["type"] = Dashes[at % Dashes.Length] },
            ["itemStyle"] = Ink("~ink"),
            ["data"] = new JsonArray([start, .. run.Where(pedestal => pedestal.Computed.ContainsKey(leg)).Select(pedestal => Point(pedestal.Metres, pedestal.Computed[leg], pedestal.Name))]),
        };
    }

    /// <summary>From each pedestal to the next an area between the lower and the upper edge; "~band" is drawn by the page's script.</summary>
    static JsonObject Band(string leg, IEnumerable<PedestalShown> run) => new()
    {
        ["name"] = $"{leg} ±",
        ["type"] = "custom",
        ["renderItem"] = "~band",
        ["silent"] = true,
        ["itemStyle"] = new JsonObject { ["color"] = "~quiet", ["opacity"] = 0.3 },
        ["data"] = new JsonArray([.. run.Where(pedestal => pedestal.Computed.ContainsKey(leg)).Pairs().Select(pair => new JsonArray(
            [.. Edges(pair.Inner, leg).Concat(Edges(pair.Outer, leg)).Select(edge => (JsonNode)Math.Round(edge, 2))]))]),
    };

    static double[] Edges(PedestalShown pedestal, string leg)
    {
        var wide = Sigmas * pedestal.Sd.GetValueOrDefault(leg);
        return [pedestal.Metres, pedestal.Computed[leg] - wide, pedestal.Computed[leg] + wide];
    }

    static IEnumerable<(PedestalShown Inner, PedestalShown Outer)> Pairs(this IEnumerable<PedestalShown> run) => run.Zip(run.Skip(1));

    static JsonObject Points(string leg, int at, IEnumerable<PedestalShown> run, string name) => new()
    {
        ["name"] = name,
        ["type"] = "scatter",
        ["symbol"] = Shapes[at % Shapes.Length],
        ["symbolSize"] = 8,
        ["itemStyle"] = new JsonObject { ["color"] = "~sheet", ["borderColor"] = "~ink", ["borderWidth"] = 1.5 },
        ["data"] = new JsonArray([.. run.Where(pedestal => pedestal.Fresh && pedestal.Measured.ContainsKey(leg)).Select(pedestal => Point(pedestal.Metres, pedestal.Measured[leg], pedestal.Name))]),
    };

    static JsonObject Limits(BandsShown bands, WordBook words) => new()
    {
        ["type"] = "line",
        ["data"] = new JsonArray(),
        ["markLine"] = new JsonObject
        {
            ["symbol"] = "none",
            ["silent"] = true,
            ["lineStyle"] = new JsonObject { ["color"] = "~quiet", ["type"] = "dashed" },
            ["label"] = new JsonObject { ["color"] = "~soft", ["position"] = "insideStartTop", ["formatter"] = "{b}" },
            ["data"] = new JsonArray(
                new JsonObject { ["yAxis"] = bands.LowA, ["name"] = words["band A, low end"] },
                new JsonObject { ["yAxis"] = bands.LowB, ["name"] = words["band B, low end"] }),
        },
    };

    static JsonObject Axis(string name, double from, double? to) => new()
    {
        ["type"] = "value",
        ["name"] = name,
        ["nameLocation"] = "middle",
        ["nameGap"] = 28,
        ["min"] = from,
        ["max"] = to,
        ["nameTextStyle"] = Ink("~soft"),
        ["axisLabel"] = Ink("~soft"),
        ["splitLine"] = new JsonObject { ["lineStyle"] = Ink("~rule") },
    };

    static JsonObject Ink(string colour) => new() { ["color"] = colour };

    static JsonObject Point(double metres, double volts, string name) => new()
    {
        ["name"] = name,
        ["value"] = new JsonArray(Math.Round(metres, 1), Math.Round(volts, 2)),
    };
}
