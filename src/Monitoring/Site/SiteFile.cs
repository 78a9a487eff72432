using Farberth.Monitoring.Site.FileFormat;

namespace Farberth.Monitoring.Site;

/// <summary>Reads the text of a site file.</summary>
public static class SiteFile
{
    /// <summary>Reads and checks a whole site file. Never throws for what the text says.</summary>
    /// <param name="yamlText">The file's content, YAML 1.2.</param>
    /// <returns>The site, or all mistakes of the file found in one pass.</returns>
    public static SiteFileResult Read(string yamlText)
    {
        ArgumentNullException.ThrowIfNull(yamlText);
        var mistakes = new MistakeList();
        var root = YamlTree.Read(yamlText, mistakes, FileKind.Site);
        var site = root is null ? null : new SiteReader(new ValueReader(mistakes)).Read(root);
        return mistakes.IsEmpty ? new(site, []) : new(null, mistakes.InOrder());
    }
}
