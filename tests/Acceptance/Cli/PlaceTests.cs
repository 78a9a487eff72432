using System.Diagnostics;
using System.Text.Json.Nodes;

namespace Farberth.Acceptance.Tests.Cli;

public class PlaceTests
{
    const string Site = "data/arrivals/skua-landing.site.yaml", Weekend = "data/arrivals/weekend.arrivals.yaml";

    [Fact]
    public async Task A_weekend_is_planned_and_every_choice_and_refusal_has_its_reason()
    {
        var ended = await FarberthCommand.Run("place", Site, Weekend, "--seconds", "10");

        Assert.Equal(0, ended.Status);
        Assert.Equal("", ended.Errors);
        Assert.All(ended.Output.Split('\n'), line => Assert.True(line.Length <= 100, line));
        Assert.Contains("  Puffin           K-1 ", ended.Output, StringComparison.Ordinal);
        Assert.Contains("Whimbrel         no slip", ended.Output, StringComparison.Ordinal);
        Assert.Contains("No slip fits", ended.Output, StringComparison.Ordinal);
        Assert.Contains("Proven", ended.Output, StringComparison.Ordinal);
        Assert.Contains("Local codes and licensed people first", ended.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_same_plan_is_there_for_machines()
    {
        var ended = await FarberthCommand.Run("place", Site, Weekend, "--seconds", "10", "--json");

        Assert.Equal(0, ended.Status);
        var answer = JsonNode.Parse(ended.Output)!;
        Assert.Equal(["Puffin", "Razorbill"], answer["placed"]!.AsArray().Select(boat => (string)boat!["boat"]!));
        Assert.Equal("Whimbrel", (string)answer["refused"]![0]!["boat"]!);
        Assert.Equal(5, answer["refused"]![0]!["slips"]!.AsArray().Count);
        Assert.True((bool)answer["proven"]!);
        Assert.True((double)answer["sag-volts"]! >= (double)answer["sag-bound-volts"]!);
    }

    [Fact]
    public async Task One_boat_at_the_radio_gets_its_slips_ranked()
    {
        var ended = await FarberthCommand.Run("place", Site, Weekend, "--rank", "Razorbill", "--json");

        Assert.Equal(0, ended.Status);
        var berths = JsonNode.Parse(ended.Output)!["berths"]!.AsArray();
        Assert.Equal("K-1", (string)berths[0]!["slip"]!);
        Assert.DoesNotContain(berths, berth => (string)berth!["slip"]! == "K-3"); // Tern is there
        Assert.Contains(JsonNode.Parse(ended.Output)!["refused"]!.AsArray(), slip => (string)slip!["slip"]! == "K-3" && ((string)slip["why"]!).Contains("Tern", StringComparison.Ordinal));
    }

    /// <summary>The same boat is expected to draw little; its outlet was recorded at 28 A for a week. The plan counts on the latter.</summary>
    [Fact]
    public async Task What_was_recorded_goes_before_what_such_boats_draw()
    {
        using var folder = new TemporaryFolder();
        var recording = folder["week.jsonl"];
        await File.WriteAllLinesAsync(recording, Enumerable.Range(0, 7 * 24 * 60).Select(minute => Reading(new DateTimeOffset(2027, 7, 9, 0, 0, 0, TimeSpan.Zero).AddMinutes(minute), 28)), FarberthCommand.Cancel);

        var expected = JsonNode.Parse((await FarberthCommand.Run("place", Site, Weekend, "--rank", "Razorbill", "--json")).Output)!;
        var ended = await FarberthCommand.Run("place", Site, Weekend, "--rank", "Razorbill", "--json", "--recording", recording);

        Assert.Equal(0, ended.Status);
        var (before, after) = (expected["berths"]![0]!, JsonNode.Parse(ended.Output)!["berths"]![0]!);
        Assert.Equal("K2 L2", (string)after["at"]!); // where Tern lies
        // Some 14 A more than such a boat draws, out and back over 90 ft of 4/0 (0.100 ohm/kft) and 60 ft of 2/0 (0.159): half a volt there.
        Assert.InRange((double)before["lowest-volts"]! - (double)after["lowest-volts"]!, 0.25, 1);
        var plan = await FarberthCommand.Run("place", Site, Weekend, "--seconds", "5", "--recording", recording);
        Assert.Equal(0, plan.Status);
        Assert.Contains("Puffin", plan.Output, StringComparison.Ordinal);
    }

    /// <summary>K-3's outlet, which Tern lies on.</summary>
    static string Reading(DateTimeOffset at, double amps) => string.Create(System.Globalization.CultureInfo.InvariantCulture,
        $$"""{"at":"{{at:yyyy-MM-ddTHH:mm:ssZ}}","topic":"farberth/v1/skua-landing/pedestal/K2/reading","payload":{"time":"{{at:yyyy-MM-ddTHH:mm:ssZ}}","volts":{"L1":118,"L2":116},"outlets":{"B":{"amps":{"L2": {{amps}} } } } } }""");

    [Fact]
    public async Task A_bad_arrivals_file_says_each_place()
    {
        var ended = await FarberthCommand.Run("place", Site, "data/arrivals/bad-many.arrivals.yaml");

        Assert.Equal(1, ended.Status);
        Assert.Equal("", ended.Output);
        Assert.Contains("data/arrivals/bad-many.arrivals.yaml:12:13: ", ended.Errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("place", Site)]
    [InlineData("place", Site, Weekend, "--seconds", "0")]
    [InlineData("study", Site, "--what-if", "hotter:5")]
    [InlineData("study", Site, "--celsius", "80")]
    [InlineData("study", Site, "--amps", "K1.A")]
    public async Task Wrong_usage_ends_with_2(params string[] arguments)
    {
        var ended = await FarberthCommand.Run(arguments);

        Assert.Equal(2, ended.Status);
        Assert.NotEqual("", ended.Errors);
    }

    [Fact]
    public async Task Ctrl_C_gives_the_best_plan_so_far()
    {
        using var process = Process.Start(new ProcessStartInfo(FarberthCommand.Program, ["place", Site, Weekend, "--seconds", "600"])
        {
            WorkingDirectory = AppContext.BaseDirectory, RedirectStandardOutput = true, RedirectStandardError = true,
        })!;
        await FarberthCommand.Interrupt(process);
        var output = await process.StandardOutput.ReadToEndAsync(FarberthCommand.Cancel);
        await process.WaitForExitAsync(FarberthCommand.Cancel);
        // Interrupted before it began, it has nothing to say; later it has the plan.
        Assert.True(output.Length == 0 || output.Contains("Puffin", StringComparison.Ordinal), output);
    }
}
