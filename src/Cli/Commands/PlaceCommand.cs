using System.CommandLine;
using Farberth.Cli.Placing;
using Farberth.Monitoring.Site;
using Farberth.Planning.Placement;

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
        var seconds = new Option<double>("--seconds") { Description = "The longest that is searched.", HelpName = "N", DefaultValueFactory = _ => 30 };
        var json = Arguments.Json();
        var command = new Command("place", "Find slips for arriving boats; Ctrl-C gives the best plan so far.") { site, arrivals, rank, seconds, json };
        seconds.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<double>() is not (>= 1 and <= LongestSeconds))
                result.AddError($"--seconds must be 1 to {LongestSeconds}");
        });
        command.SetAction((parsed, stop) =>
        {
            var definition = InputFiles.Site(parsed.GetRequiredValue(site));
            var list = InputFiles.Arrivals(parsed.GetRequiredValue(arrivals), definition);
            var asJson = parsed.GetValue(json);
            if (parsed.GetValue(rank) is { } boat)
                Print(RankingText.Lines(definition, list, Named(list, boat)), RankingText.Json(definition, list, Named(list, boat)), asJson);
            else
                Place(definition, list, new(TimeSpan.FromSeconds(parsed.GetValue(seconds)), 0), asJson, stop);
            return Task.FromResult(Exit.Done);
        });
        return command;
    }

    static void Place(SiteDefinition site, ArrivalList list, PlacementEffort effort, bool asJson, CancellationToken stop)
    {
        var progress = new Progress();
        var answer = Planner.Place(site, list, effort, null, at => progress.Show(() => PlacementText.Progress(at)), stop);
        progress.Clear();
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
