namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>The keys that one kind of mapping may have. The JSON Schema has a definition of the same name with the same keys.</summary>
sealed record KeySet(string Name, IReadOnlyList<string> Required, IReadOnlyList<string> Optional)
{
    public IReadOnlyList<string> All { get; } = [.. Required, .. Optional];
}
