using System.Xml.Linq;

namespace Farberth.Tree.Tests;

/// <summary>Which room may know which. A new project needs a line here, so that somebody thinks about it.</summary>
public class ReferencesPointInwards
{
    static readonly IReadOnlyDictionary<string, string[]> Allowed = new SortedDictionary<string, string[]>
    {
        ["src/Grid"] = [],
        ["src/Monitoring"] = ["src/Grid"],
        ["src/Planning"] = ["src/Grid", "src/Monitoring"],
        ["src/Adapters"] = ["src/Monitoring"],
        ["src/Service"] = ["src/Adapters", "src/Planning"],
        ["src/Cli"] = ["src/Service", "src/Planning", "simulators/HotAfternoon"],
        ["simulators/HotAfternoon"] = ["src/Monitoring", "src/Adapters"],
        ["tests/Grid"] = ["src/Grid"],
        ["tests/Monitoring"] = ["src/Monitoring"],
        ["tests/Planning"] = ["src/Planning", "simulators/HotAfternoon"],
        ["tests/Adapters"] = ["src/Adapters"],
        ["tests/HotAfternoon"] = ["simulators/HotAfternoon"],
        ["tests/Service"] = ["src/Service"],
        ["tests/Cli"] = ["src/Cli"],
        ["tests/Acceptance"] = ["src/Cli"],
        ["tests/Console"] = ["src/Cli"],
        ["tests/Benchmarks"] = ["src/Grid", "src/Monitoring"],
        ["tests/Tree"] = [],
    };

    static IEnumerable<string> Projects => Repository.Files.Where(file => file.EndsWith(".csproj", StringComparison.Ordinal));

    public static TheoryData<string> EachProject => [.. Projects];

    [Theory]
    [MemberData(nameof(EachProject))]
    public void Every_project_knows_only_the_rooms_further_in(string project)
    {
        var room = FolderOf(project);
        Assert.True(Allowed.ContainsKey(room), $"{room} has no line in the table of allowed references");
        Assert.Empty(Items(project, "ProjectReference").Select(to => FolderOf(Resolve(room, to))).Except(Allowed[room]));
    }

    [Fact]
    public void Grid_uses_the_base_class_library_only() =>
        Assert.Empty(Items("src/Grid/Farberth.Grid.csproj", "PackageReference", "FrameworkReference", "Reference"));

    [Fact]
    public void The_solution_holds_every_project()
    {
        var listed = XDocument.Parse(Repository.Read("Farberth.slnx")).Descendants("Project")
            .Select(project => (string)project.Attribute("Path")!);
        Assert.Equal(Projects.Order(), listed.Order());
    }

    [Theory]
    [InlineData("src/Grid")]
    [InlineData("src/Monitoring")]
    [InlineData("src/Planning")]
    [InlineData("src/Adapters")]
    [InlineData("src/Service")]
    [InlineData("src/Cli")]
    public void Every_room_bans_what_it_must_not_use_and_says_what_to_use_instead(string room)
    {
        var bans = Repository.Read($"{room}/BannedSymbols.txt").Split('\n')
            .Where(line => line.Length > 0 && !line.StartsWith("//")).ToList();
        Assert.All(bans, ban => Assert.Matches(@"^[A-Z]:[\w.#]+;.{10,}$", ban));
        Assert.Superset(Needed(room), bans.Select(ban => ban.Split(';')[0]).ToHashSet());
    }

    static HashSet<string> Needed(string room)
    {
        HashSet<string> clock =
        [
            "P:System.DateTime.Now", "P:System.DateTime.UtcNow", "P:System.DateTimeOffset.Now", "P:System.DateTimeOffset.UtcNow",
        ];
        HashSet<string> world =
        [
            "P:System.TimeProvider.System", "T:System.Diagnostics.Stopwatch", "T:System.Threading.Tasks.Task",
            "T:System.Threading.Thread", "T:System.Console", "T:System.IO.File", "T:System.IO.Directory", "T:System.Environment",
            "M:System.Random.#ctor", "P:System.Random.Shared", "M:System.Guid.NewGuid", "T:System.Net.Http.HttpClient", "T:System.Net.Sockets.Socket",
        ];
        return room is "src/Grid" or "src/Monitoring" or "src/Planning" ? [.. clock, .. world] : clock;
    }

    static IEnumerable<string> Items(string project, params string[] kinds) => XDocument.Parse(Repository.Read(project))
        .Descendants().Where(item => kinds.Contains(item.Name.LocalName)).Select(item => (string)item.Attribute("Include")!);

    static string FolderOf(string file) => file[..file.LastIndexOf('/')];

    static string Resolve(string folder, string relative) => Path.GetRelativePath(
        Repository.Root, Path.GetFullPath(Path.Combine(Repository.Root, folder, relative))).Replace('\\', '/');
}
