using System.Text.Json;
using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;
using static Farberth.Monitoring.Tests.Telemetry.TelemetrySite;

namespace Farberth.Monitoring.Tests.Telemetry;

/// <summary>
/// Every NAME.json under data/payloads is one payload as it would come from the wire; NAME.expected.json beside it says
/// what must become of it. A new case is two files and no code.
/// </summary>
public class PayloadFileTests
{
    static readonly JsonSerializerOptions Reading = new(JsonSerializerDefaults.Web);

    static string Folder => Path.Combine(AppContext.BaseDirectory, "data", "payloads");

    public static TheoryData<string> Names() =>
        [.. Directory.GetFiles(Folder, "*.expected.json").Select(path => Path.GetFileName(path).Replace(".expected.json", "", StringComparison.Ordinal)).Order()];

    /// <param name="Topic">Below the site's prefix.</param>
    /// <param name="Kind">Name of the decoded record, or null where nothing is taken.</param>
    /// <param name="Volts">By leg; a leg that is not here must have no volts.</param>
    /// <param name="Outlets">Amps by outlet and leg; an outlet that is not here must be refused or absent.</param>
    /// <param name="Refused">Reasons in order.</param>
    sealed record Expected(
        string Topic,
        string? Kind,
        Dictionary<string, double>? Volts,
        Dictionary<string, Dictionary<string, double>>? Outlets,
        string[] Refused);

    [Theory]
    [MemberData(nameof(Names))]
    public void A_payload_file_becomes_what_its_expectation_says(string name)
    {
        var expected = JsonSerializer.Deserialize<Expected>(File.ReadAllText(Path.Combine(Folder, name + ".expected.json")), Reading)!;
        var decoded = Decoder().Decode(Message(expected.Topic, File.ReadAllBytes(Path.Combine(Folder, name + ".json"))), Now);

        Assert.Equal(expected.Refused, decoded.Refusals.Select(refusal => refusal.Reason.ToString()));
        Assert.Equal(expected.Kind, decoded.Value?.GetType().Name);
        Assert.False(decoded.Ignored);
        if (decoded.Value is Reading reading)
        {
            Assert.Equal(expected.Volts, ByLeg(reading.Volts));
            Assert.Equal(expected.Outlets ?? [], reading.Outlets.ToDictionary(o => o.Key, o => ByLeg(o.Value.Amps)));
        }
    }

    [Fact]
    public void Every_payload_file_has_an_expectation_and_there_are_some()
    {
        var payloads = Directory.GetFiles(Folder, "*.json").Where(path => !path.EndsWith(".expected.json", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(payloads);
        Assert.All(payloads, path => Assert.True(File.Exists(Path.ChangeExtension(path, ".expected.json")), path));
    }

    static Dictionary<string, double> ByLeg(PerLeg values) => values.Legs.ToDictionary(leg => leg.ToString(), leg => values[leg]);
}
