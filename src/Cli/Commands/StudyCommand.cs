using System.CommandLine;
using System.Globalization;
using Farberth.Cli.Studying;
using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Study;

namespace Farberth.Cli.Commands;

/// <summary>What a site's feeders carry without a service: loads as stated, faults, room for more boats, upgrades.</summary>
static class StudyCommand
{
    public static Command Make()
    {
        var site = Arguments.Site();
        var celsius = new Option<double>("--celsius") { Description = "Outdoor temperature, °C.", HelpName = "N", DefaultValueFactory = _ => 35, CustomParser = result => Arguments.Number(result, -20, 55) };
        var load = new Option<double?>("--load") { Description = "Every outlet at so many percent of its rating; else by the demand table.", HelpName = "PERCENT", CustomParser = result => Arguments.Number(result, 0, 200) };
        var amps = new Option<string[]>("--amps") { Description = "One outlet's load, as C12.A=20; may be repeated.", HelpName = "PLACE=A" };
        var submetered = new Option<bool>("--submetered") { Description = "Each slip has a kilowatt-hour meter of its own." };
        var recording = new Option<string?>("--recording")
        {
            Description = "Study what was recorded instead: load survey, balancing of the legs, and what if.", HelpName = "FILE",
        };
        var whatIf = new Option<string[]>("--what-if") { Description = $"Something otherwise on the recorded day: {ChangeText.Forms}; may be repeated.", HelpName = "CHANGE" };
        var json = Arguments.Json();
        var command = new Command("study", "Load flow for stated loads, faults, room for more boats, upgrades; or what a recording says of the load.")
            { site, celsius, load, amps, submetered, recording, whatIf, json };
        command.Validators.Add(result =>
        {
            if (result.GetValue(recording) is null && result.GetResult(whatIf) is not null)
                result.AddError("--what-if needs --recording: the day that is played again");
        });
        command.SetAction((parsed, stop) =>
        {
            var definition = InputFiles.Site(parsed.GetRequiredValue(site));
            var (asJson, isSubmetered) = (parsed.GetValue(json), parsed.GetValue(submetered));
            if (parsed.GetValue(recording) is { } path)
            {
                var changes = (parsed.GetValue(whatIf) ?? []).Select(text => ChangeText.Read(text, definition)).ToList();
                var docks = RecordedDock.Of(definition, path, changes, isSubmetered, new Progress(), stop);
                Print(asJson ? [RecordedJson.Of(definition, docks)] : RecordedText.Lines(definition, docks));
                return Task.FromResult(Exit.Done);
            }
            var stated = Stated(definition, parsed.GetValue(amps) ?? []);
            var reports = Reports(
                definition, dock => StatedLoads.With(dock, parsed.GetValue(load) is { } percent ? StatedLoads.OfRatings(dock, percent / 100)
                    : StatedLoads.ByCode(definition, dock, isSubmetered), stated),
                parsed.GetValue(celsius), isSubmetered, stop);
            Print(asJson ? [StudyJson.Of(definition, reports)] : StudyText.Lines(definition, reports, parsed.GetValue(celsius), parsed.GetValue(load)));
            return Task.FromResult(Exit.Done);
        });
        return command;
    }

    static void Print(IEnumerable<string> lines)
    {
        foreach (var line in lines)
            Console.WriteLine(line);
    }

    static List<DockReport> Reports(SiteDefinition site, Func<DockDefinition, IReadOnlyList<Draw>> draws, double celsius, bool isSubmetered, CancellationToken stop)
    {
        var progress = new Progress();
        var reports = new List<DockReport>();
        foreach (var dock in site.Docks.Values)
        {
            stop.ThrowIfCancellationRequested();
            progress.Show(() => $"dock {dock.Name}, {reports.Count} of {site.Docks.Count} done");
            reports.Add(DockReport.Of(site, dock, draws(dock), celsius, isSubmetered));
        }
        progress.Clear();
        return reports;
    }

    /// <exception cref="CommandFailure">An outlet that the site does not have, or no number.</exception>
    static Dictionary<(string, string), double> Stated(SiteDefinition site, IEnumerable<string> texts)
    {
        var stated = new Dictionary<(string, string), double>();
        foreach (var text in texts)
        {
            if (text.Split('=') is not [var place, var number] || place.Split('.') is not [var pedestal, var outlet]
                || !double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out var amps) || !(amps is >= 0 and <= 2000))
                throw CommandFailure.Usage($"--amps {text}: write it as PEDESTAL.OUTLET=AMPS, as C12.A=20");
            if (!site.Docks.Values.Any(dock => dock.Pedestals.TryGetValue(pedestal, out var there) && there.Outlets.ContainsKey(outlet)))
                throw CommandFailure.BadInput($"--amps {text}: the site file has no outlet {outlet} on a pedestal {pedestal}");
            stated[(pedestal, outlet)] = amps;
        }
        return stated;
    }
}
