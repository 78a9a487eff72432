using System.Text.Json.Nodes;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Cli;

public class DemoTests
{
    [Fact]
    public async Task The_demo_in_a_pipe_tells_alarms_serves_the_page_and_sums_up_when_interrupted()
    {
        using var demo = FarberthCommand.Start("demo", "--minutes", "0.2", "--http", "http://127.0.0.1:0");
        try
        {
            var told = new CommandLog();
            told.Follow(demo.StandardOutput);
            var page = new Uri((await told.When(line => line.StartsWith("page: ", StringComparison.Ordinal), 0, FarberthCommand.Cancel))[6..]);
            await told.When(line => line.Contains(" raised H.", StringComparison.Ordinal), 0, FarberthCommand.Cancel);

            using var browser = new HttpClient { BaseAddress = page };
            await PageIsServed(browser);
            await ViewIsServed(browser);

            await FarberthCommand.Interrupt(demo);
            await demo.WaitForExitAsync(FarberthCommand.Cancel);
            await told.When(line => line.StartsWith("Alarms raised: ", StringComparison.Ordinal), 0, FarberthCommand.Cancel);
            Assert.Equal(0, demo.ExitCode);
            Assert.Equal("", await demo.StandardError.ReadToEndAsync(FarberthCommand.Cancel));
        }
        finally
        {
            demo.Kill();
        }
    }

    static async Task PageIsServed(HttpClient browser)
    {
        using var answer = await browser.GetAsync("/", FarberthCommand.Cancel);
        Assert.Equal("text/html", answer.Content.Headers.ContentType!.MediaType);
        var policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
        Assert.StartsWith("default-src 'none'", policy, StringComparison.Ordinal);
        var text = await answer.Content.ReadAsStringAsync(FarberthCommand.Cancel);
        Assert.Contains("Nobody swims at a powered dock", text, StringComparison.Ordinal);
        // Nothing from another host: a dock office may have no internet.
        Assert.DoesNotMatch(@"(src|href)=""?(https?:)?//", text);
    }

    static async Task ViewIsServed(HttpClient browser)
    {
        var view = JsonNode.Parse(await browser.GetStringAsync("/api/view", FarberthCommand.Cancel))!;
        Assert.Equal("kestrelcove", (string)view["site"]!);
        var dock = Assert.Single(view["docks"]!.AsArray())!;
        Assert.Equal(23, dock["pedestals"]!.AsArray().Count);
        Assert.All(dock["pedestals"]!.AsArray(), pedestal =>
        {
            Assert.Equal(["L1", "L2"], pedestal!["measured"]!.AsObject().Select(pair => pair.Key));
            Assert.InRange((double)pedestal["computed"]!["L1"]!, 90, 127);
        });
        Assert.NotEmpty(view["alarms"]!.AsArray());
        Assert.Equal("[]", await browser.GetStringAsync("/api/refusals", FarberthCommand.Cancel));
        Assert.True((bool)JsonNode.Parse(await browser.GetStringAsync("/health/live", FarberthCommand.Cancel))!["live"]!);
    }
}
