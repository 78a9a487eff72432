using System.CommandLine;
using Farberth.Cli.Placing;
using Farberth.Cli.Studying;
using Farberth.Monitoring.Site;
using Farberth.Planning.Placement;
using Farberth.Planning.Survey;

namespace Farberth.Cli.Commands;

/// <summary>Which slip each arriving boat gets.</summary>
static class PlaceCommand
{
    const double LongestSeconds = 3600;

    public static Command Make()
    {
        var site = Arguments.Site();
        var arrivals = new Argument<string>("ARRIVALS") { Description = "The arrivals file (YAML): who comes, who is there, how warm it gets." };
        var rank = new Option<string?>("--rank") { Description = "Only rank the slips for one boat of the file.", HelpName = "BOAT" };
        var recording = new Option<string?>("--recording")
        {
            Description = "What the outlets of those who are there have drawn: their usual, by hour and heat, goes before what such boats draw.", HelpName = "FILE",
        };
        var seconds = new Option<double>("--seconds") { Description = "The longest that is searched.", HelpName = "N", DefaultValueFactory = _ => 30, CustomParser = result => Arguments.Number(result, 1, LongestSeconds) };
        var json = Arguments.Json();
        var command = new Command("place", "Find slips for arriving boats; Ctrl-C gives the best plan so far.") { site, arrivals, rank, recording, seconds, json };
        command.SetAction((parsed, stop) =>
        {
            var definition = InputFiles.Site(parsed.GetRequiredValue(site));
            var list = InputFiles.Arrivals(parsed.GetRequiredValue(arrivals), definition);
            var asJson = parsed.GetValue(json);
            var usual = parsed.GetValue(recording) is { } path ? RecordedDock.Usual(definition, path, new Progress(), stop) : null;
            if (parsed.GetValue(rank) is { } boat)
            {
                var arrival = Named(list, boat);
                var ranked = Planner.Rank(definition, list, arrival, usual == null ? null : usual.Of);
                Print(RankingText.Lines(definition, arrival, ranked), RankingText.Json(definition, boat, ranked), asJson);
            }
            else
            {
                Place(definition, list, PlacementEffort.Usual(TimeProvider.System) with { Limit = TimeSpan.FromSeconds(parsed.GetValue(seconds)) }, usual, asJson, stop);
            }
            return Task.FromResult(Exit.Done);
        });
        return command;
    }

    static void Place(SiteDefinition site, ArrivalList list, PlacementEffort effort, UsualLoads? usual, bool asJson, CancellationToken stop)
    {
        var progress = new Progress();
        var answer = Planner.Place(site, list, effort, usual == null ? null : usual.Of, at => progress.Show(() => PlacementText.Progress(at)), stop);
        progress.Clear();
        if (stop.IsCancellationRequested)
            Console.Error.WriteLine("Interrupted: this is the best plan so far.");
        Print(PlacementText.Lines(site, list, answer), PlacementJson.Of(site, answer), asJson);
    }

    static Arrival Named(ArrivalList list, string boat) => list.Arrivals.FirstOrDefault(arrival => arrival.Boat.Name == boat)
        ?? throw CommandFailure.BadInput($"--rank: the arrivals file has no boat '{boat}'");

    static void Print(IEnumerable<string> lines, string json, bool asJson)
    {
        if (asJson)
            Console.WriteLine(json);
        else
            foreach (var line in lines)
                Console.WriteLine(line);
    }
}
