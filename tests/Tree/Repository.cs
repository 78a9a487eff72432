namespace Farberth.Tree.Tests;

/// <summary>The files of this repository by their paths from its root, with forward slashes; not what a build makes.</summary>
static class Repository
{
    public static readonly string Root = Find();

    public static readonly IReadOnlyList<string> Files = [.. Walk(new DirectoryInfo(Root)).Order(StringComparer.Ordinal)];

    public static string Read(string path) => File.ReadAllText(Path.Combine(Root, path));

    /// <summary>Files below a folder whose names end as given.</summary>
    public static IEnumerable<string> Below(string folder, string ending) =>
        Files.Where(file => file.StartsWith(folder + "/", StringComparison.Ordinal))
            .Where(file => file.EndsWith(ending, StringComparison.Ordinal));

    /// <summary>A file or a folder that holds files.</summary>
    public static bool Has(string path) =>
        Files.Contains(path) || Files.Any(file => file.StartsWith(path.TrimEnd('/') + "/", StringComparison.Ordinal));

    static string Find()
    {
        for (var at = new DirectoryInfo(AppContext.BaseDirectory); at != null; at = at.Parent)
            if (File.Exists(Path.Combine(at.FullName, "Farberth.slnx")))
                return at.FullName;
        throw new DirectoryNotFoundException($"no Farberth.slnx above {AppContext.BaseDirectory}");
    }

    static IEnumerable<string> Walk(DirectoryInfo folder) =>
        folder.EnumerateFiles().Select(file => Path.GetRelativePath(Root, file.FullName).Replace('\\', '/'))
            .Concat(folder.EnumerateDirectories().Where(inner => !IsMadeByTools(inner.Name)).SelectMany(Walk));

    static bool IsMadeByTools(string folder) =>
        folder is ".git" or "bin" or "obj" or "TestResults" or "BenchmarkDotNet.Artifacts" or ".vs" or ".idea";
}
