using Farberth.Monitoring.Site;
using Farberth.Monitoring.Site.FileFormat;

namespace Farberth.Planning.Placement;

/// <summary>What became of an arrivals file: a list, or every mistake in it, in the order of the file.</summary>
/// <param name="Arrivals">Null if there is any mistake.</param>
public sealed record ArrivalsFileResult(ArrivalList? Arrivals, IReadOnlyList<SiteMistake> Mistakes);

/// <summary>Reads the text of an arrivals file. docs/algorithms/planning.md has every key.</summary>
public static class ArrivalsFile
{
    /// <summary>More boats than this are no list of arrivals.</summary>
    public const int MostBoats = 1000;

    /// <summary>A longer time is not planned by the hour.</summary>
    public static readonly TimeSpan LongestPlan = TimeSpan.FromDays(62);

    /// <summary>Reads and checks a whole file. Never throws for what the text says.</summary>
    /// <param name="yamlText">The file's content, YAML 1.2.</param>
    public static ArrivalsFileResult Read(string yamlText, SiteDefinition site)
    {
        ArgumentNullException.ThrowIfNull(yamlText);
        var mistakes = new MistakeList();
        var root = YamlTree.Read(yamlText, mistakes, ArrivalsKeys.Kind);
        var list = root is null ? null : new ArrivalsReader(new ValueReader(mistakes), site).Read(root);
        return mistakes.IsEmpty ? new(list, []) : new(null, mistakes.InOrder());
    }
}
