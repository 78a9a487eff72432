using System.Text.Json.Nodes;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Cli;

/// <summary>The service with the broker in its own process: no other program needed.</summary>
public class RunTests
{
    const string Site = "data/hot-afternoon/four-posts.site.yaml";

    [Fact]
    public async Task Run_with_its_own_broker_prints_where_it_is_and_can_be_recorded_from()
    {
        using var folder = new TemporaryFolder();
        await using var service = await StartedService.Start("run", Site, "--broker", "0", "--http", "http://127.0.0.1:0");
        var port = service.Said.Split("broker on 127.0.0.1:")[1];
        using var recorder = FarberthCommand.Start("record", folder["out.ndjson"], "--mqtt", $"127.0.0.1:{port}", "--site", "fourposts");
        var errors = new CommandLog();
        errors.Follow(recorder.StandardError);
        await errors.When(line => line.StartsWith("recording farberth/v1/fourposts/#", StringComparison.Ordinal), 0, FarberthCommand.Cancel);

        using var meters = FarberthCommand.Start(
            "simulate", "data/hot-afternoon/four-posts.scenario.yaml", "--mqtt", $"127.0.0.1:{port}", "--speed", "1000");
        await meters.WaitForExitAsync(FarberthCommand.Cancel);
        Assert.Equal(0, meters.ExitCode);
        await service.WhenView(view => view["broker"]!["received"]!.GetValue<long>() >= 100);

        await FarberthCommand.Interrupt(recorder);
        await recorder.WaitForExitAsync(FarberthCommand.Cancel);
        Assert.Equal(0, recorder.ExitCode);
        var lines = await File.ReadAllLinesAsync(folder["out.ndjson"], FarberthCommand.Cancel);
        Assert.True(lines.Length >= 100);
        Assert.All(lines, line => Assert.StartsWith("farberth/v1/fourposts/", (string)JsonNode.Parse(line)!["topic"]!, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Run_with_its_broker_away_stays_up_and_says_so()
    {
        await using var service = await StartedService.Start("run", Site, "--mqtt", "127.0.0.1:1", "--http", "http://127.0.0.1:0");

        var view = await service.WhenView(view => (string)view["broker"]!["state"]! == "waiting");

        Assert.NotEqual("", (string)view["broker"]!["reason"]!);
        Assert.False(service.HasExited);
    }

    [Fact]
    public async Task The_log_can_be_had_as_json_with_what_it_speaks_of_by_name()
    {
        using var folder = new TemporaryFolder();
        using var process = FarberthCommand.Start(
            "run", Site, "--mqtt", "127.0.0.1:1", "--http", "http://127.0.0.1:0", "--data", folder["data"], "--log-json");
        var log = new CommandLog();
        log.Follow(process.StandardError);
        using var patience = new CancellationTokenSource(TimeSpan.FromMinutes(1));
        var line = JsonNode.Parse(await log.When(line => line.Contains("Link to the broker", StringComparison.Ordinal), 0, patience.Token))!;
        Assert.Equal("Waiting", (string)line["Phase"]!);
        Assert.NotEqual("", (string)line["Reason"]!);
        Assert.True(DateTimeOffset.TryParse((string)line["@t"]!, out _));
        await FarberthCommand.Interrupt(process);
        await process.WaitForExitAsync(FarberthCommand.Cancel);
    }
}
