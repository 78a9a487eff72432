using System.Text.RegularExpressions;
using YamlDotNet.RepresentationModel;

namespace Farberth.Adapters.Tests.Deploy;

/// <summary>What can be known of the deployment without an engine: that it can be read, and that it fits together.</summary>
public partial class ComposeTests
{
    static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "deploy");

    static readonly YamlMappingNode Compose = Mapping(Path.Combine(Folder, "compose.yaml"));

    public static TheoryData<string> Yaml => [.. Directory.EnumerateFiles(Folder, "*.y*ml", SearchOption.AllDirectories).Select(path => Path.GetRelativePath(Folder, path))];

    [Theory]
    [MemberData(nameof(Yaml))]
    public void Every_file_is_yaml(string file) => Assert.NotEmpty(Mapping(Path.Combine(Folder, file)).Children);

    [Fact]
    public void Every_file_that_is_mounted_is_shipped_and_every_volume_declared()
    {
        var declared = ((YamlMappingNode)Compose["volumes"]).Children.Keys.Select(Text).ToHashSet();
        var sources = Services().SelectMany(service => Strings(service.Value, "volumes")).Select(volume => volume.Split(':')[0]).ToList();
        Assert.True(sources.Count > 8);
        Assert.All(sources.Where(source => source.StartsWith("./", StringComparison.Ordinal)), source => Assert.True(Path.Exists(Path.Combine(Folder, source)), source));
        Assert.Equal(declared.Order(), sources.Where(source => PlainName().IsMatch(source)).Order());
    }

    /// <summary>The site file is the one thing that everybody brings along; everything that listens does so on this machine only.</summary>
    [Fact]
    public void Nothing_listens_beyond_this_machine()
    {
        var addresses = Address().Matches(File.ReadAllText(Path.Combine(Folder, "compose.yaml"))).Select(match => match.Groups[1].Value).ToList();
        Assert.True(addresses.Count >= 5);
        Assert.All(addresses, address => Assert.Equal("127.0.0.1", address));
        Assert.All(Services(), service => Assert.Contains(Text(service.Key), new[] { "broker", "history", "service", "metrics", "dashboards" }));
        Assert.Contains("listener 1883 127.0.0.1", File.ReadAllText(Path.Combine(Folder, "mosquitto", "mosquitto.conf")), StringComparison.Ordinal);
    }

    [Fact]
    public void Every_image_has_a_version_and_no_secret_is_written_down()
    {
        var text = File.ReadAllText(Path.Combine(Folder, "compose.yaml"));
        Assert.All(
            Services().Select(service => Text(((YamlMappingNode)service.Value)["image"])).Where(image => image != "farberth"),
            image => Assert.Matches(@":v?\d+(\.\d+)*$", image));
        Assert.All(Secret().Matches(text), secret => Assert.StartsWith("${FARBERTH_", secret.Groups[1].Value));
    }

    [Fact]
    public void The_service_is_given_what_the_other_parts_are_set_up_with()
    {
        var service = string.Join(' ', Strings(((YamlMappingNode)Compose["services"])["service"], "command"));
        Assert.Contains("--mqtt 127.0.0.1:1883", service, StringComparison.Ordinal);
        Assert.Contains("--influx http://127.0.0.1:8086", service, StringComparison.Ordinal);
        Assert.Contains("--data /var/lib/farberth", service, StringComparison.Ordinal);
        Assert.Contains("127.0.0.1:8470", File.ReadAllText(Path.Combine(Folder, "prometheus", "prometheus.yml")), StringComparison.Ordinal);
    }

    static YamlMappingNode Mapping(string path)
    {
        var stream = new YamlStream();
        stream.Load(new StringReader(File.ReadAllText(path)));
        return (YamlMappingNode)Assert.Single(stream.Documents).RootNode;
    }

    static IDictionary<YamlNode, YamlNode> Services() => ((YamlMappingNode)Compose["services"]).Children;

    static IEnumerable<string> Strings(YamlNode service, string key) =>
        ((YamlMappingNode)service).Children.TryGetValue(key, out var all) ? ((YamlSequenceNode)all).Select(Text) : [];

    static string Text(YamlNode node) => ((YamlScalarNode)node).Value!;

    [GeneratedRegex(@"(?:ADDR(?:ESS)?: |listen-address=|--mqtt"", ""|http://)(\d+\.\d+\.\d+\.\d+)")]
    private static partial Regex Address();

    [GeneratedRegex("^[a-z]+$")]
    private static partial Regex PlainName();

    [GeneratedRegex(@"(?:PASSWORD|TOKEN): (\S+)")]
    private static partial Regex Secret();
}
