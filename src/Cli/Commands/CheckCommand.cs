using System.CommandLine;
using Farberth.Cli.Checking;
using Farberth.Monitoring.Site;

namespace Farberth.Cli.Commands;

/// <summary>Reads a site file; prints every mistake, or what the file describes.</summary>
static class CheckCommand
{
    public static Command Make()
    {
        var site = Arguments.Site();
        var json = Arguments.Json();
        var command = new Command("check", "Check a site file: every mistake with its place, or a summary with fault currents.") { site, json };
        command.SetAction(parsed => Run(parsed.GetRequiredValue(site), parsed.GetValue(json)));
        return command;
    }

    static int Run(string path, bool asJson)
    {
        var result = SiteFile.Read(InputFiles.Text(path));
        foreach (var mistake in result.Mistakes)
            Console.Error.WriteLine(InputFiles.Line(path, mistake));
        if (asJson)
            Console.WriteLine(SiteSummaryJson.Of(result));
        else if (result.Site is { } site)
            foreach (var line in SiteSummary.Lines(site))
                Console.WriteLine(line);
        else
            Console.Error.WriteLine(result.Mistakes.Count == 1 ? "1 mistake" : $"{result.Mistakes.Count} mistakes");
        return result.Site is null ? Exit.BadInput : Exit.Done;
    }
}
