using System.Text;
using System.Text.Json.Nodes;

namespace Farberth.Acceptance.Tests.Cli;

public class ReplayTests
{
    const string Scenario = "data/hot-afternoon/four-posts.scenario.yaml", Site = "data/hot-afternoon/four-posts.site.yaml";

    [Fact]
    public async Task The_same_recording_replayed_twice_gives_the_same_bytes()
    {
        using var folder = new TemporaryFolder();
        await Record(folder["afternoon.ndjson"]);
        foreach (var run in new[] { "1", "2" })
        {
            var ended = await FarberthCommand.Run(
                "replay", Site, folder["afternoon.ndjson"], "--alarms", folder["alarms" + run], "--estimates", folder["estimates" + run], "--advice", folder["advice" + run]);
            Assert.Equal((0, ""), (ended.Status, ended.Errors));
        }

        foreach (var name in new[] { "alarms", "estimates", "advice" })
        {
            var bytes = await File.ReadAllBytesAsync(folder[name + "1"], FarberthCommand.Cancel);
            Assert.NotEmpty(bytes);
            Assert.Equal(bytes, await File.ReadAllBytesAsync(folder[name + "2"], FarberthCommand.Cancel));
        }
    }

    [Fact]
    public async Task A_compressed_recording_gives_what_the_plain_one_gives()
    {
        using var folder = new TemporaryFolder();
        await Record(folder["afternoon.ndjson"]);
        await Record(folder["afternoon.ndjson.gz"]);

        var plain = await FarberthCommand.Run("replay", Site, folder["afternoon.ndjson"], "--alarms", "-");
        var packed = await FarberthCommand.Run("replay", Site, folder["afternoon.ndjson.gz"], "--alarms", "-");

        Assert.NotEqual("", plain.Output);
        Assert.Equal(plain.Output, packed.Output);
        Assert.True(new FileInfo(folder["afternoon.ndjson.gz"]).Length < new FileInfo(folder["afternoon.ndjson"]).Length);
    }

    [Fact]
    public async Task Alarms_on_standard_output_are_one_object_a_line_in_order_of_time()
    {
        using var folder = new TemporaryFolder();
        await Record(folder["afternoon.ndjson"]);

        var ended = await FarberthCommand.Run("replay", Site, folder["afternoon.ndjson"], "--alarms", "-");

        var alarms = ended.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => JsonNode.Parse(line)!).ToList();
        var times = alarms.Select(alarm => (string)alarm["at"]!).ToList();
        Assert.Equal(times.Order(StringComparer.Ordinal), times);
        Assert.All(alarms, alarm => Assert.StartsWith("Q.", (string)alarm["id"]!, StringComparison.Ordinal));
        Assert.All(alarms, alarm => Assert.NotEqual("", (string)alarm["reason"]!));
        // The scenario takes pedestal Q3 off the air from 16:05 to 16:10, Lisbon's summer time.
        var silent = Assert.Single(alarms, alarm => (string)alarm["id"]! == "Q.Q3.meter-silent" && (string)alarm["state"]! == "unacknowledged");
        Assert.StartsWith("2027-08-03T15:0", (string)silent["since"]!, StringComparison.Ordinal);
        // The summary stands aside, so that the output is for machines only.
        Assert.Contains("alarms raised: ", ended.Errors, StringComparison.Ordinal);
        Assert.Contains("alarms for the electrician: ", ended.Errors, StringComparison.Ordinal);
        Assert.Contains("Nobody swims at a powered dock", ended.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Requests_on_standard_output_are_one_object_a_line_with_the_members_of_the_contract()
    {
        using var folder = new TemporaryFolder();
        await Record(folder["afternoon.ndjson"]);

        var ended = await FarberthCommand.Run("replay", Site, folder["afternoon.ndjson"], "--advice", "-");

        var advice = ended.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => JsonNode.Parse(line)!.AsObject()).ToList();
        // Q1.B carries more than its rating until its breaker opens; then its boat is told that shore power is lost.
        var lost = advice.First(one => (string)one["ask"]! == "shore-lost");
        Assert.Equal(["at", "time", "slip", "ask", "amps", "message", "until", "why"], lost.Select(member => member.Key));
        Assert.Equal("no supply at outlet B of pedestal Q1", (string)lost["why"]!);
        Assert.Contains(advice, one => one.ContainsKey("taken-back"));
    }

    [Fact]
    public async Task Damaged_and_cut_lines_are_said_and_counted_and_the_rest_is_taken()
    {
        using var folder = new TemporaryFolder();
        await Record(folder["whole.ndjson"]);
        var lines = await File.ReadAllLinesAsync(folder["whole.ndjson"], FarberthCommand.Cancel);
        lines[4] = "{ this is no message";
        lines[^1] = lines[^1][..(lines[^1].Length / 2)];
        await File.WriteAllTextAsync(folder["damaged.ndjson"], string.Join('\n', lines), FarberthCommand.Cancel);

        var ended = await FarberthCommand.Run("replay", Site, folder["damaged.ndjson"], "--json");

        Assert.Equal(0, ended.Status);
        Assert.Contains($"damaged.ndjson:5:1: ", ended.Errors, StringComparison.Ordinal);
        Assert.Contains($"damaged.ndjson:{lines.Length}:1: ", ended.Errors, StringComparison.Ordinal);
        var summary = JsonNode.Parse(ended.Output)!;
        Assert.Equal(2, (long)summary["damaged-lines"]!);
        Assert.Equal(lines.Length - 2, (long)summary["messages"]!);
    }

    [Fact]
    public async Task What_the_decoder_refuses_is_counted_by_reason()
    {
        using var folder = new TemporaryFolder();
        await File.WriteAllTextAsync(folder["odd.ndjson"], """
            {"at":"2027-08-03T15:00:00Z","topic":"farberth/v1/fourposts/pedestal/Q7/reading","payload":{"time":"2027-08-03T15:00:00Z","volts":{"L1":230}}}
            {"at":"2027-08-03T15:00:01Z","topic":"farberth/v1/fourposts/pedestal/Q1/reading","payload-base64":"bm90IGpzb24="}
            {"at":"2027-08-03T15:00:02Z","topic":"farberth/v1/fourposts/kitchen","payload":{}}
            {"at":"2027-08-03T15:00:03Z","topic":"farberth/v1/elsewhere/weather","payload":{}}

            """, FarberthCommand.Cancel);

        var ended = await FarberthCommand.Run("replay", Site, folder["odd.ndjson"], "--json");

        Assert.Equal(0, ended.Status);
        var summary = JsonNode.Parse(ended.Output)!;
        Assert.Equal("""{"not-json":1,"unknown-topic":1,"unknown-pedestal":1}""", summary["refused"]!.ToJsonString());
        Assert.Equal(1, (long)summary["ignored"]!);
    }

    [Fact]
    public async Task A_recording_that_is_not_there_is_bad_input()
    {
        var ended = await FarberthCommand.Run("replay", Site, "no-such.ndjson");

        Assert.Equal(1, ended.Status);
        Assert.StartsWith("no-such.ndjson: ", ended.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_bad_site_file_stops_a_replay_with_every_place()
    {
        using var folder = new TemporaryFolder();
        await File.WriteAllTextAsync(folder["empty.ndjson"], "", Encoding.UTF8, FarberthCommand.Cancel);

        var ended = await FarberthCommand.Run("replay", "data/cli/five-mistakes.site.yaml", folder["empty.ndjson"]);

        Assert.Equal(1, ended.Status);
        Assert.Equal(5, ended.Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
    }

    static async Task Record(string file)
    {
        var ended = await FarberthCommand.Run("simulate", Scenario, "--write", file);
        Assert.Equal((0, ""), (ended.Status, ended.Errors));
    }
}
