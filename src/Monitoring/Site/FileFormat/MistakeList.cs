using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>Where something stands in a site file; line and column count from 1.</summary>
readonly record struct Place(int Line, int Column, string Path)
{
    /// <summary>The same line and column for the value under a key.</summary>
    public Place Under(string key) => this with { Path = Path.Length == 0 ? key : $"{Path}.{key}" };
}

/// <summary>Collects the mistakes of one file.</summary>
sealed class MistakeList
{
    readonly List<SiteMistake> _found = [];

    public bool IsEmpty => _found.Count == 0;

    public void Add(Place at, string message) =>
        _found.Add(new(at.Line, at.Column, at.Path, message));

    public void Add(Place at, Sentence said) =>
        _found.Add(new(at.Line, at.Column, at.Path, $"{said}") { Said = said });

    /// <summary>All mistakes by line and column.</summary>
    public IReadOnlyList<SiteMistake> InOrder() =>
        [.. _found.OrderBy(mistake => mistake.Line).ThenBy(mistake => mistake.Column)];
}
