using System.Text.RegularExpressions;

namespace Farberth.Tree.Tests;

/// <summary>The documents name only what is there.</summary>
public class Documents
{
    public static TheoryData<string> Each => [.. Markdown.Documents];

    [Fact]
    public void The_top_level_is_complete() => Assert.All(
        ["README.md", "DEVELOPERS.md", "LICENSE", ".ci/run", "src", "tests", "deploy", "simulators", "docs"],
        path => Assert.True(Repository.Has(path), path));

    [Theory]
    [MemberData(nameof(Each))]
    public void Every_path_that_a_document_names_exists(string document)
    {
        var text = Repository.Read(document);
        var missing = Markdown.Quoted(text).SelectMany(Markdown.Paths).Where(path => !Exists(path)).ToList();
        Assert.Empty(missing);
    }

    [Theory]
    [MemberData(nameof(Each))]
    public void Every_link_of_a_document_leads_somewhere(string document)
    {
        var folder = Path.GetDirectoryName(Path.Combine(Repository.Root, document))!;
        var missing = Markdown.Links(Repository.Read(document)).Where(to => !Path.Exists(Path.Combine(folder, to))).ToList();
        Assert.Empty(missing);
    }

    [Theory]
    [MemberData(nameof(Each))]
    public void Every_project_in_a_command_is_a_project(string document)
    {
        var missing = Markdown.Quoted(Repository.Read(document))
            .SelectMany(quoted => Regex.Matches(quoted, @"(?:--project|dotnet build|dotnet publish) ([\w./-]+)"))
            .Select(match => match.Groups[1].Value).Where(path => !IsProject(path)).ToList();
        Assert.Empty(missing);
    }

    [Theory]
    [MemberData(nameof(Each))]
    public void Every_command_that_a_document_names_is_one_of_the_program(string document)
    {
        var program = string.Concat(Repository.Below("src/Cli", ".cs").Select(Repository.Read));
        var missing = Markdown.Quoted(Repository.Read(document)).SelectMany(Markdown.Commands)
            .Where(command => !program.Contains($"\"{command}\"", StringComparison.Ordinal)).ToList();
        Assert.Empty(missing);
    }

    [Fact]
    public void The_map_names_every_project()
    {
        var map = Markdown.Quoted(Repository.Read("DEVELOPERS.md")).ToHashSet();
        var missing = Repository.Files.Where(file => file.EndsWith(".csproj", StringComparison.Ordinal))
            .Select(file => Path.GetDirectoryName(file)!).Where(folder => !map.Contains(folder)).ToList();
        Assert.Empty(missing);
    }

    static bool IsProject(string path) => Repository.Files.Any(file =>
        file.EndsWith(".csproj", StringComparison.Ordinal) && (file == path || Path.GetDirectoryName(file) == path.TrimEnd('/')));

    /// <summary>A lone file name may stand anywhere in the tree; a star stands for any part of a name.</summary>
    static bool Exists(string path)
    {
        var pattern = Regex.Escape(path.TrimEnd('/')).Replace(@"\*", "[^/]*");
        var whole = new Regex(path.Contains('/') ? $"^{pattern}(/|$)" : $"(^|/){pattern}$|^{pattern}/");
        return Repository.Files.Any(file => whole.IsMatch(file));
    }

    [Theory]
    [InlineData("`src/Nowhere/X.cs`", "src/Nowhere/X.cs")]
    [InlineData("```bash\nbash tests/nothing # comment src/x\n```", "tests/nothing")]
    [InlineData("`Missing.cs` and `Type.Member`", "Missing.cs")]
    public void A_path_that_is_not_there_is_found(string text, string missing) =>
        Assert.Equal([missing], Markdown.Quoted(text).SelectMany(Markdown.Paths).Where(path => !Exists(path)));

    [Fact]
    public void A_command_is_found_with_and_without_the_program_name() => Assert.Equal(
        ["check", "demo"], new[] { "farberth check SITE.yaml", "dotnet run --project src/Cli -- demo" }.SelectMany(Markdown.Commands));
}
