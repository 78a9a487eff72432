using System.Net;
using System.Net.Sockets;

namespace Farberth.Acceptance.Tests.Cli;

public class UsageTests
{
    const string Site = "scenarios/kestrel-cove.site.yaml", Scenario = "scenarios/hot-afternoon.scenario.yaml";

    [Theory]
    [InlineData("")]
    [InlineData("dance")]
    [InlineData("check")]
    [InlineData($"check {Site} --colour")]
    [InlineData($"replay {Site}")]
    [InlineData($"replay {Site} a.ndjson --alarms - --estimates -")]
    [InlineData("record out.ndjson")]
    [InlineData("record out.ndjson --mqtt host:port")]
    [InlineData($"simulate {Scenario}")]
    [InlineData($"simulate {Scenario} --write a.ndjson --mqtt localhost")]
    [InlineData($"simulate {Scenario} --mqtt localhost --speed 0")]
    [InlineData($"run {Site} --mqtt localhost --broker 0")]
    [InlineData($"run {Site} --http http://192.0.2.7:80")]
    [InlineData($"run {Site} --http nowhere")]
    [InlineData($"run {Site} --keep-readings 0")]
    [InlineData($"run {Site} --history-gib 8G")]
    [InlineData($"run {Site} --broker abc")]
    [InlineData($"study {Site} --celsius warm")]
    [InlineData($"study {Site} --load x")]
    [InlineData($"simulate {Scenario} --mqtt localhost --speed fast")]
    [InlineData("demo --minutes soon")]
    [InlineData("demo --minutes -1")]
    public async Task Wrong_usage_ends_with_2_and_says_so_on_standard_error(string arguments)
    {
        var ended = await FarberthCommand.Run(Words(arguments));

        Assert.Equal(2, ended.Status);
        Assert.NotEqual("", ended.Errors);
        Assert.Equal("", ended.Output);
    }

    [Theory]
    [InlineData("--help")]
    [InlineData("check --help")]
    [InlineData("demo --help")]
    public async Task Help_is_no_error(string arguments)
    {
        var ended = await FarberthCommand.Run(Words(arguments));

        Assert.Equal((0, ""), (ended.Status, ended.Errors));
        Assert.Contains("Usage:", ended.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Run_on_a_bad_site_file_starts_nothing_and_says_every_mistake()
    {
        var ended = await FarberthCommand.Run("run", "data/cli/five-mistakes.site.yaml", "--broker", "0", "--http", "http://127.0.0.1:0");

        Assert.Equal((1, ""), (ended.Status, ended.Output));
        Assert.Equal(5, ended.Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
    }

    [Fact]
    public async Task Record_from_a_broker_that_is_not_there_fails_at_once_and_leaves_no_file()
    {
        using var folder = new TemporaryFolder();
        var ended = await FarberthCommand.Run("record", folder["out.ndjson"], "--mqtt", $"127.0.0.1:{UnusedPort()}");

        Assert.Equal(3, ended.Status);
        Assert.StartsWith("the broker: ", ended.Errors, StringComparison.Ordinal);
        Assert.False(File.Exists(folder["out.ndjson"]));
    }

    [Fact]
    public async Task A_port_that_is_taken_is_a_failure_outside()
    {
        using var taken = new TcpListener(IPAddress.Loopback, 0);
        taken.Start();
        var ended = await FarberthCommand.Run(
            "run", Site, "--broker", "0", "--http", $"http://127.0.0.1:{((IPEndPoint)taken.LocalEndpoint).Port}");

        Assert.Equal(3, ended.Status);
        Assert.NotEqual("", ended.Errors);
    }

    static string[] Words(string line) => line.Split(' ', StringSplitOptions.RemoveEmptyEntries);

    static int UnusedPort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
