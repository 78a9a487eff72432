using System.Text.Json.Nodes;

namespace Farberth.Acceptance.Tests.Cli;

public class StudyTests
{
    const string Site = "data/arrivals/skua-landing.site.yaml";

    [Fact]
    public async Task A_site_is_studied_in_a_hundred_columns()
    {
        var ended = await FarberthCommand.Run("study", Site);

        Assert.Equal(0, ended.Status);
        Assert.Equal("", ended.Errors);
        Assert.All(ended.Output.Split('\n'), line => Assert.True(line.Length <= 100, line));
        // Note 1 leaves nothing out here: six receptacles at 90 %: (5 × 3.6 + 12) × 0.9 = 27 kVA.
        Assert.Contains("demand table: 6 receptacles, 30.0 kVA × 0.9 = 27.0 kVA", ended.Output, StringComparison.Ordinal);
        Assert.Contains("second feed to K2", ended.Output, StringComparison.Ordinal);
        Assert.Contains("a licensed person's work", ended.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Stated_amps_move_the_volts_as_the_law_of_ohm_says()
    {
        var idle = await Volts("--load", "0");
        var loaded = await Volts("--load", "0", "--amps", "K3.A=24");

        Assert.Equal(120, idle["L2"], 0.01);
        // 1 AWG Al 0.253, 2/0 0.159, 4/0 0.100 ohm/kft at 75 °C (NEC table 8), out and back, some kelvins beside; and the transformer.
        var drop = 24 * 2 * (0.253 * 320 + 0.159 * 60 + 0.100 * 90) / 1000;
        Assert.InRange(120 - loaded["L1"], 0.85 * drop, 1.25 * drop);
        Assert.True(loaded["L2"] > idle["L2"], "the neutral lifts the idle leg");
    }

    [Fact]
    public async Task A_recorded_day_is_surveyed_balanced_and_played_again()
    {
        using var folder = new TemporaryFolder();
        var recording = folder["day.jsonl.gz"];
        var simulated = await FarberthCommand.Run("simulate", "data/hot-afternoon/four-posts.scenario.yaml", "--write", recording);
        Assert.Equal(0, simulated.Status);

        var text = await FarberthCommand.Run("study", "data/hot-afternoon/four-posts.site.yaml", "--recording", recording, "--what-if", "hotter:5");
        Assert.Equal(0, text.Status);
        Assert.All(text.Output.Split('\n'), line => Assert.True(line.Length <= 100, line));
        Assert.Contains("NEC 220.87 asks for 30", text.Output, StringComparison.Ordinal);

        var json = await FarberthCommand.Run("study", "data/hot-afternoon/four-posts.site.yaml", "--recording", recording, "--what-if", "hotter:5", "--json");
        var dock = JsonNode.Parse(json.Output)!["docks"]!.AsObject().First().Value!;
        Assert.Equal(1.25 * (double)dock["survey"]!["maximum-kva"]!, (double)dock["survey"]!["demand-kva"]!, 0.02);
        Assert.True((double)dock["what-if"]!["after"]!["most-kva"]! > (double)dock["what-if"]!["before"]!["most-kva"]!);
    }

    [Theory]
    [InlineData("--recording", "no-such.jsonl")]
    [InlineData("--amps", "Q9.A=3")]
    public async Task What_is_not_there_is_bad_input(params string[] options)
    {
        var ended = await FarberthCommand.Run(["study", Site, .. options]);

        Assert.Equal(1, ended.Status);
        Assert.Equal("", ended.Output);
    }

    static async Task<Dictionary<string, double>> Volts(params string[] options)
    {
        var ended = await FarberthCommand.Run(["study", Site, "--json", .. options]);
        Assert.Equal(0, ended.Status);
        return JsonNode.Parse(ended.Output)!["docks"]!["K"]!["pedestals"]!["K3"]!["volts"]!.AsObject().ToDictionary(pair => pair.Key, pair => (double)pair.Value!);
    }
}
