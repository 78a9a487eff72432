namespace Farberth.Acceptance.Tests.Cli;

public class SimulateTests
{
    const string Scenario = "data/hot-afternoon/four-posts.scenario.yaml", Site = "data/hot-afternoon/four-posts.site.yaml";

    [Fact]
    public async Task The_same_scenario_written_twice_gives_the_same_bytes()
    {
        using var folder = new TemporaryFolder();
        var first = await FarberthCommand.Run("simulate", Scenario, "--site", Site, "--write", folder["first.ndjson"]);
        var second = await FarberthCommand.Run("simulate", Scenario, "--site", Site, "--write", folder["second.ndjson"]);

        Assert.Equal((0, 0), (first.Status, second.Status));
        var bytes = await File.ReadAllBytesAsync(folder["first.ndjson"], FarberthCommand.Cancel);
        Assert.NotEmpty(bytes);
        Assert.Equal(bytes, await File.ReadAllBytesAsync(folder["second.ndjson"], FarberthCommand.Cancel));
    }

    [Fact]
    public async Task The_site_beside_the_scenario_is_taken_where_none_is_named()
    {
        using var folder = new TemporaryFolder();
        var ended = await FarberthCommand.Run("simulate", Scenario, "--write", folder["out.ndjson"]);

        Assert.Equal((0, ""), (ended.Status, ended.Errors));
        Assert.Contains("farberth/v1/fourposts/", await File.ReadAllTextAsync(folder["out.ndjson"], FarberthCommand.Cancel), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_bad_scenario_is_said_with_its_places_and_nothing_is_written()
    {
        using var folder = new TemporaryFolder();
        var text = await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, Scenario), FarberthCommand.Cancel);
        var bad = text.Replace("pedestal: Q4", "pedestal: Q9", StringComparison.Ordinal);
        await File.WriteAllTextAsync(folder["bad.scenario.yaml"], bad, FarberthCommand.Cancel);

        var ended = await FarberthCommand.Run("simulate", folder["bad.scenario.yaml"], "--site", Site, "--write", folder["out.ndjson"]);

        Assert.Equal(1, ended.Status);
        Assert.Matches(@"bad\.scenario\.yaml:\d+:\d+: .*Q9", ended.Errors);
        Assert.False(File.Exists(folder["out.ndjson"]));
    }

    [Fact]
    public async Task A_folder_that_is_not_there_is_a_failure_outside()
    {
        using var folder = new TemporaryFolder();
        var ended = await FarberthCommand.Run("simulate", Scenario, "--write", folder["missing/out.ndjson"]);

        Assert.Equal(3, ended.Status);
        Assert.NotEqual("", ended.Errors);
    }
}
