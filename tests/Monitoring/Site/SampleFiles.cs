namespace Farberth.Monitoring.Tests.Site;

/// <summary>The site files of tests/data/sites.</summary>
static class SampleFiles
{
    static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "data", "sites");

    public static TheoryData<string> Good => Named("good-*.yaml");

    public static TheoryData<string> Bad => Named("bad-*.yaml");

    public static string Text(string name) => File.ReadAllText(Path.Combine(Folder, name));

    /// <summary>Texts after a comment word such as "# expect:".</summary>
    public static IEnumerable<string> Comments(string text, string word) => text.Split('\n')
        .Where(line => line.StartsWith($"# {word}: ", StringComparison.Ordinal))
        .Select(line => line[(word.Length + 4)..].Trim());

    static TheoryData<string> Named(string pattern) =>
        [.. Directory.GetFiles(Folder, pattern).Select(path => Path.GetFileName(path)!).Order(StringComparer.Ordinal)];
}
