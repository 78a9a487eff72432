using Farberth.Monitoring.Site;
using Farberth.Monitoring.Site.FileFormat;
using Farberth.Monitoring.Telling.FileFormat;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Telling;

/// <summary>Reads the file that says whom to tell.</summary>
public static class NotifyFile
{
    static readonly FileKind Kind = new(Sentence.Of("a file of contacts"), "'people:' and somebody");

    public static IReadOnlyList<string> TlsWords { get; } = ["starttls", "tls", "none"];

    /// <summary>Reads and checks all of it. Never throws for what the text says.</summary>
    /// <param name="yamlText">The file's content, YAML 1.2.</param>
    /// <param name="site">Whose slips the boaters lie in.</param>
    public static NotifyFileResult Read(string yamlText, SiteDefinition site)
    {
        ArgumentNullException.ThrowIfNull(yamlText);
        var mistakes = new MistakeList();
        var root = YamlTree.Read(yamlText, mistakes, Kind);
        var settings = root is null ? null : new NotifyReader(new ValueReader(mistakes), site).Read(root);
        return mistakes.IsEmpty ? new(settings, []) : new(null, mistakes.InOrder());
    }
}
