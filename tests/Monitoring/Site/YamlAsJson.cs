using System.Globalization;
using System.Text.Json.Nodes;
using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace Farberth.Monitoring.Tests.Site;

/// <summary>YAML as an editor sees it when it applies a JSON Schema: plain scalars by the core schema of YAML 1.2.</summary>
static class YamlAsJson
{
    /// <exception cref="YamlException">The text is not YAML, or has a key twice.</exception>
    public static JsonNode? Convert(string text)
    {
        var stream = new YamlStream();
        stream.Load(new StringReader(text));
        return stream.Documents.Count == 0 ? null : Node(stream.Documents[0].RootNode);
    }

    static JsonNode? Node(YamlNode node) => node switch
    {
        YamlMappingNode map => new JsonObject(map.Children.Select(
            pair => KeyValuePair.Create(Key(pair.Key), Node(pair.Value)))),
        YamlSequenceNode list => new JsonArray([.. list.Children.Select(Node)]),
        YamlScalarNode { Style: ScalarStyle.Plain } plain => Plain(plain.Value!),
        YamlScalarNode quoted => JsonValue.Create(quoted.Value),
        _ => throw new InvalidOperationException(node.NodeType.ToString()),
    };

    static string Key(YamlNode key) =>
        (key as YamlScalarNode)?.Value ?? throw new YamlException(key.Start, key.End, "a key of JSON is a string");

    static JsonValue? Plain(string text) => text switch
    {
        "" or "~" or "null" => null,
        "true" or "false" => JsonValue.Create(text == "true"),
        _ when double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number) =>
            JsonValue.Create(number),
        _ => JsonValue.Create(text),
    };
}
