using System.Text.RegularExpressions;
using YamlDotNet.Core;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>Places within one text. The library's marks can lie past the end of a text that ends early; these never do.</summary>
sealed partial class TextPlaces(string text)
{
    readonly int[] _lengths = [.. LineBreak().Split(text).Select(line => line.Length)];

    public Place Of(Mark mark, string path)
    {
        if (mark.Line > _lengths.Length)
            return new(_lengths.Length, _lengths[^1] + 1, path);
        var line = (int)Math.Max(1, mark.Line);
        return new(line, (int)Math.Clamp(mark.Column, 1, _lengths[line - 1] + 1), path);
    }

    /// <summary>The line breaks of YAML 1.1, which the library still counts.</summary>
    [GeneratedRegex(@"\r\n|[\r\n\u0085\u2028\u2029]")]
    private static partial Regex LineBreak();
}
