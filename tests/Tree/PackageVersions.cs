using System.Xml.Linq;

namespace Farberth.Tree.Tests;

/// <summary>One place says which version of a package is used.</summary>
public class PackageVersions
{
    static readonly string[] ProjectFiles =
        [.. Repository.Files.Where(file => Path.GetExtension(file) is ".csproj" or ".props")];

    static IEnumerable<XElement> Packages(string kind) =>
        ProjectFiles.SelectMany(file => XDocument.Parse(Repository.Read(file)).Descendants(kind));

    [Fact]
    public void No_project_states_a_version_of_its_own() => Assert.Empty(
        from package in Packages("PackageReference")
        where package.Attribute("Version") != null || package.Attribute("VersionOverride") != null || package.HasElements
        select (string)package.Attribute("Include")!);

    [Fact]
    public void Every_package_has_one_fixed_version()
    {
        var central = Packages("PackageVersion")
            .ToDictionary(p => (string)p.Attribute("Include")!, p => (string)p.Attribute("Version")!);
        Assert.NotEmpty(central);
        // Some packages, as the exporter to Prometheus, have never had a version without "beta".
        Assert.All(central.Values, version => Assert.Matches(@"^\d+(\.\d+){1,3}(-beta\.\d+)?$", version));
        Assert.Empty(Packages("PackageReference").Select(p => (string)p.Attribute("Include")!).Except(central.Keys));
    }
}
