using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site.FileFormat;
using Json.Schema;
using YamlDotNet.Core;

namespace Farberth.Monitoring.Tests.Site;

/// <summary>The JSON Schema for editors says the same as the reader.</summary>
public class SiteFileSchema
{
    static readonly string SchemaText =
        File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "docs", "site-file.schema.json"));

    static readonly JsonNode Schema = JsonNode.Parse(SchemaText)!;

    public static TheoryData<string> GoodFiles => SampleFiles.Good;

    public static TheoryData<string> BadFiles => SampleFiles.Bad;

    public static TheoryData<string> Mappings => [.. SiteKeys.All.Select(keys => keys.Name)];

    [Theory, MemberData(nameof(Mappings))]
    public void A_mapping_has_the_same_keys_in_the_schema_and_in_the_reader(string name)
    {
        var keys = SiteKeys.All.Single(known => known.Name == name);
        var definition = name == SiteKeys.Site.Name ? Schema : Schema["$defs"]![name]!;
        Assert.Equal(keys.All.Order(), definition["properties"]!.AsObject().Select(pair => pair.Key).Order());
        Assert.Equal(keys.Required.Order(), Strings(definition["required"]).Order());
        Assert.False((bool)definition["additionalProperties"]!);
    }

    [Fact]
    public void The_schema_defines_no_mapping_that_the_reader_does_not_know()
    {
        var withKeys = Schema["$defs"]!.AsObject().Where(pair => pair.Value!["properties"] is not null).Select(pair => pair.Key);
        Assert.Equal(SiteKeys.All.Select(keys => keys.Name).Except([SiteKeys.Site.Name]).Order(), withKeys.Order());
    }

    [Fact]
    public void The_schema_lists_the_supplies() =>
        Assert.Equal(SupplySystem.All.Select(supply => supply.Name), Strings(Schema["properties"]!["supply"]!["enum"]));

    [Fact]
    public void Quantities_have_the_same_units_in_the_schema_and_in_the_reader() => Assert.All(Dimension.All, dimension =>
    {
        var name = dimension.Name.ToString().Split(' ', 2)[1].Replace("difference of temperatures", "temperature-difference", StringComparison.Ordinal)
            .Replace("time", "duration", StringComparison.Ordinal).Replace(' ', '-');
        var pattern = (string)Schema["$defs"]![name]!["pattern"]!;
        var allUnits = Dimension.All.SelectMany(other => other.Units.Select(unit => unit.Word));
        var accepted = allUnits.Where(unit => Regex.IsMatch($"1.5 {unit}", pattern));
        Assert.Equal(dimension.Units.Select(unit => unit.Word).Order(), accepted.Order());
        Assert.DoesNotMatch(pattern, "1.5");
    });

    [Theory, MemberData(nameof(GoodFiles))]
    public void The_schema_accepts_a_good_file(string file) => Assert.True(Accepts(SampleFiles.Text(file)));

    // Not every mistake can be seen by a schema; each bad file says whether this one can.
    [Theory, MemberData(nameof(BadFiles))]
    public void The_schema_refuses_a_bad_file_where_the_mistake_is_one_of_structure(string file)
    {
        var text = SampleFiles.Text(file);
        switch (SampleFiles.Comments(text, "schema").Single())
        {
            case "refuses":
                Assert.False(Accepts(text));
                break;
            case "accepts":
                Assert.True(Accepts(text));
                break;
            default:
                Assert.ThrowsAny<YamlException>(() => YamlAsJson.Convert(text));
                break;
        }
    }

    static bool Accepts(string yaml)
    {
        var schema = JsonSchema.FromText(SchemaText, new BuildOptions { SchemaRegistry = new() });
        return schema.Evaluate(ToElement(YamlAsJson.Convert(yaml))).IsValid;
    }

    static System.Text.Json.JsonElement ToElement(JsonNode? node) =>
        System.Text.Json.JsonSerializer.SerializeToElement(node);

    static IEnumerable<string> Strings(JsonNode? array) => array?.AsArray().Select(item => (string)item!) ?? [];
}
