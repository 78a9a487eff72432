using System.Text.Json.Serialization;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Site;

/// <summary>One thing that is wrong in a site file, and where.</summary>
/// <param name="Line">1 for the first line.</param>
/// <param name="Column">1 for the first character of the line.</param>
/// <param name="Path">As docks.C.cables[3].conductor; items of a list count from 0; empty for the whole file.</param>
/// <param name="Message">A plain sentence that says what to do.</param>
public sealed record SiteMistake(int Line, int Column, string Path, string Message)
{
    /// <summary>The message for readers of another language; null where it is known in English only.</summary>
    [JsonIgnore]
    public Sentence? Said { get; init; }
}

/// <summary>What became of a site file: a site, or every mistake in it, in the order of the file.</summary>
/// <param name="Site">Null if there is any mistake.</param>
public sealed record SiteFileResult(SiteDefinition? Site, IReadOnlyList<SiteMistake> Mistakes);
