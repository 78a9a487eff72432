using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace Farberth.Acceptance.Tests.Cli;

public partial class CheckTests
{
    const string Bad = "data/cli/five-mistakes.site.yaml", Good = "scenarios/kestrel-cove.site.yaml";

    [Fact]
    public async Task Five_mistakes_are_all_said_on_standard_error_with_their_places()
    {
        var ended = await FarberthCommand.Run("check", Bad);

        Assert.Equal(1, ended.Status);
        Assert.Equal("", ended.Output);
        Assert.Equal(5, Expected().Count);
        Assert.All(Expected(), expected => Assert.Contains(expected, ended.Errors, StringComparison.Ordinal));
        Assert.Equal(5, Regex.Count(ended.Errors, @"^data/cli/five-mistakes\.site\.yaml:\d+:\d+: ", RegexOptions.Multiline));
    }

    [Fact]
    public async Task A_bad_site_file_for_machines_lists_the_same_mistakes()
    {
        var ended = await FarberthCommand.Run("check", Bad, "--json");

        Assert.Equal(1, ended.Status);
        var answer = JsonNode.Parse(ended.Output)!;
        Assert.False((bool)answer["good"]!);
        Assert.Equal(
            Expected().Select(text => text.Split(':')[1] + ":" + text.Split(':')[2]),
            answer["mistakes"]!.AsArray().Select(mistake => $"{mistake!["line"]}:{mistake["column"]}"));
    }

    [Fact]
    public async Task A_good_site_shows_every_pedestal_in_a_hundred_columns()
    {
        var ended = await FarberthCommand.Run("check", Good);

        Assert.Equal(0, ended.Status);
        Assert.Equal("", ended.Errors);
        var lines = ended.Output.Split('\n');
        Assert.All(lines, line => Assert.True(line.Length <= 100, line));
        Assert.All(
            Enumerable.Range(1, 18).Select(n => $"H{n}").Concat(Enumerable.Range(1, 5).Select(n => $"F{n}")),
            name => Assert.Single(lines, line => line.StartsWith($"  {name} ", StringComparison.Ordinal)));
        Assert.Contains("Nobody swims at a powered dock", ended.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Fault_current_falls_and_loop_impedance_rises_outwards_and_cold_conductors_carry_more()
    {
        var ended = await FarberthCommand.Run("check", Good, "--json");

        var pedestals = JsonNode.Parse(ended.Output)!["docks"]!["H"]!["pedestals"]!;
        var trunk = Enumerable.Range(1, 18).Select(n => pedestals[$"H{n}"]!).ToList();
        Assert.All(trunk.Zip(trunk.Skip(1)), pair =>
        {
            Assert.True((double)pair.First["loop-milliohms"]! < (double)pair.Second["loop-milliohms"]!);
            Assert.True((double)pair.First["most-fault-amps"]! > (double)pair.Second["most-fault-amps"]!);
        });
        // The law of Ohm on the printed numbers: no-load volts over the loop's impedance, here 122 V.
        Assert.All(trunk, at => Assert.Equal(
            122 / ((double)at["loop-milliohms"]! / 1000), (double)at["least-fault-amps"]!, (double)at["least-fault-amps"]! * 0.001 + 1));
        Assert.All(trunk, at => Assert.True((double)at["least-fault-amps"]! < (double)at["most-fault-amps"]!));
        // The lengths along the trunk as the site file has them; a foot is 0.3048 m exactly (international yard and pound agreement, 1959).
        var feet = TrunkCable().Matches(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, Good))).Sum(match => double.Parse(match.Groups[1].Value));
        Assert.Equal(feet * 0.3048, (double)trunk[^1]["metres"]!, 0.01);
    }

    [Fact]
    public async Task A_file_that_is_not_there_is_bad_input()
    {
        var ended = await FarberthCommand.Run("check", "no-such.site.yaml");

        Assert.Equal(1, ended.Status);
        Assert.StartsWith("no-such.site.yaml: ", ended.Errors, StringComparison.Ordinal);
        Assert.Equal("", ended.Output);
    }

    /// <summary>What the file itself says of its mistakes, as "file:line:column: words".</summary>
    static List<string> Expected() =>
        [.. ExpectLine().Matches(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, Bad)))
            .Select(match => $"{Bad}:{match.Groups[1].Value}")];

    [GeneratedRegex(@"to: H\d+, length: (\d+) ft")]
    private static partial Regex TrunkCable();

    [GeneratedRegex(@"^# expect: (\d+:\d+: )", RegexOptions.Multiline)]
    private static partial Regex ExpectLine();
}
