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
    }

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
