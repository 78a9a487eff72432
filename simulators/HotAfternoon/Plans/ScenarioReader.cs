using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace Farberth.HotAfternoon;

/// <summary>Reads a scenario file; the keys are listed in docs/simulator.md.</summary>
static class ScenarioReader
{
    public static ScenarioResult Read(string yaml)
    {
        var mistakes = new List<ScenarioMistake>();
        if (Root(yaml, mistakes) is not { } root)
            return new ScenarioResult(null, mistakes);
        var day = new YamlMap(root, default, []).DateAndClock("start").Date;
        var scenario = ReadScenario(new YamlMap(root, day, mistakes));
        return new ScenarioResult(mistakes.Count == 0 ? scenario : null, [.. mistakes.OrderBy(m => m.Place.Line)]);
    }

    static YamlMappingNode? Root(string yaml, List<ScenarioMistake> mistakes)
    {
        try
        {
            var stream = new YamlStream();
            stream.Load(new StringReader(yaml));
            if (stream.Documents is [{ RootNode: YamlMappingNode root }])
                return root;
            mistakes.Add(new ScenarioMistake(new Place(1, 1), "a scenario is one YAML mapping."));
        }
        catch (YamlException error)
        {
            mistakes.Add(new ScenarioMistake(new Place((int)error.Start.Line, (int)error.Start.Column), error.Message));
        }
        return null;
    }

    static Scenario ReadScenario(YamlMap map)
    {
        var scenario = new Scenario(
            map.Text("scenario"),
            (long)map.Number("seed", 1),
            map.DateAndClock("start"),
            map.DateAndClock("end"),
            map.Duration("step", 1),
            FeederReader.Weather(Section(map, "weather")),
            FeederReader.Feeder(Section(map, "feeder")),
            MeterReader.Meters(Section(map, "meters")),
            [.. map.Maps("breakers").Select(FeederReader.Breaker)],
            [.. map.Maps("boats").Select(BoatReader.Boat)])
        { Contacts = [.. map.Maps("contacts").Select(FeederReader.Contacts)] };
        if (scenario.End <= scenario.Start)
            map.Complain(map.PlaceOfKey("end"), "'end' must be later than 'start'.");
        foreach (var twin in scenario.Boats.GroupBy(boat => boat.Name).SelectMany(same => same.Skip(1)))
            map.Complain(twin.Place, $"there is another boat '{twin.Name}'.");
        var season = map.Map("season") is { } its ? SeasonPlan.Read(its) : null;
        map.Close();
        return season is null || scenario.Start == default ? scenario : Season.Of(scenario, season);
    }

    /// <summary>A section; left out, an empty one, so that its defaults hold and its missing keys are named.</summary>
    static YamlMap Section(YamlMap map, string key) =>
        map.Map(key) ?? new YamlMap(new YamlMappingNode(), map.Day, []);
}
