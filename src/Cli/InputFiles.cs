using Farberth.HotAfternoon;
using Farberth.Monitoring.Site;
using Farberth.Planning.Placement;

namespace Farberth.Cli;

/// <summary>Files that a user names. A bad one ends the command, with every mistake and its place.</summary>
static class InputFiles
{
    /// <exception cref="CommandFailure">The file cannot be read, or has mistakes.</exception>
    public static SiteDefinition Site(string path)
    {
        var result = SiteFile.Read(Text(path));
        return result.Site ?? throw CommandFailure.BadInput([.. result.Mistakes.Select(mistake => Line(path, mistake))]);
    }

    /// <exception cref="CommandFailure">The file cannot be read, or has mistakes.</exception>
    public static ArrivalList Arrivals(string path, SiteDefinition site)
    {
        var result = ArrivalsFile.Read(Text(path), site);
        return result.Arrivals ?? throw CommandFailure.BadInput([.. result.Mistakes.Select(mistake => Line(path, mistake))]);
    }

    /// <summary>As "docks.yaml:12:5: message".</summary>
    public static string Line(string path, SiteMistake mistake) => $"{path}:{mistake.Line}:{mistake.Column}: {mistake.Message}";

    /// <summary>A scenario made for a site, ready to run.</summary>
    /// <exception cref="CommandFailure">A file cannot be read, has mistakes, or the two do not fit.</exception>
    public static Simulation Simulation(string path, SiteDefinition site)
    {
        var result = Scenario.Read(Text(path));
        var mistakes = result.IsGood ? HotAfternoon.Simulation.Check(result.Scenario, site) : result.Mistakes;
        return mistakes.Count == 0 ? new Simulation(result.Scenario!, site) : throw CommandFailure.BadInput(
            [.. mistakes.Select(mistake => $"{path}:{mistake.Place.Line}:{mistake.Place.Column}: {mistake.Message}")]);
    }

    /// <summary>The site file that a scenario goes with where none is named: the only one in its folder.</summary>
    /// <exception cref="CommandFailure">There is none, or more than one.</exception>
    public static string SiteBeside(string scenarioPath)
    {
        var folder = Path.GetDirectoryName(Path.GetFullPath(scenarioPath))!;
        var sites = Directory.Exists(folder) ? Directory.GetFiles(folder, "*.site.yaml") : [];
        return sites is [var only] ? only : throw CommandFailure.BadInput(
            $"{scenarioPath}: {(sites.Length == 0 ? "no" : "more than one")} *.site.yaml lies beside it; name the site file with --site");
    }

    public static string Text(string path)
    {
        try
        {
            return File.ReadAllText(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw CommandFailure.BadInput($"{path}: {e.Message}");
        }
    }
}
