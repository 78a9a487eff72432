using Microsoft.Playwright;

namespace Farberth.Console.Tests;

/// <summary>Every page at the hot hours: nobody is shut out by it, nothing comes from another host, nothing runs off the screen.</summary>
public class PagesForEverybody(Chromium chromium, Demo demo) : IClassFixture<Chromium>, IClassFixture<Demo>
{
    public static TheoryData<string, int, bool> Pages()
    {
        var all = new TheoryData<string, int, bool>();
        foreach (var page in new[] { "/", "/alarms", "/alarms/H.H18.A.overload", "/bench/H", "/boats", "/site-file", "/reading" })
        {
            all.Add(page, 390, false);
            all.Add(page, 1024, true);
            all.Add(page, 1920, false);
        }
        return all;
    }

    [Theory, MemberData(nameof(Pages))]
    public async Task A_page_has_no_barrier_by_day_and_by_night(string path, int width, bool isNight)
    {
        await using var visitor = await chromium.Visit(demo.Home, width, isNight);
        await visitor.Go(path, isLive: path != "/reading");
        Assert.Empty(await visitor.Barriers());
        Assert.False(await visitor.ScrollsSideways());
        Assert.Empty(visitor.Complaints);
    }

    [Fact]
    public async Task The_docks_can_be_read_without_script()
    {
        await using var visitor = await chromium.Visit(demo.Home, hasScript: false);
        await visitor.Go("/", isLive: false);
        Assert.Contains("Lowest:", await visitor.Page.InnerTextAsync("main"), StringComparison.Ordinal);
        Assert.Contains("high", await visitor.Page.InnerTextAsync(".need"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task In_German_no_English_word_of_the_console_is_left()
    {
        await using var visitor = await chromium.Visit(demo.Home);
        await visitor.Go("/reading", isLive: false);
        await visitor.Page.GetByLabel("Deutsch").CheckAsync();
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Keep" }).ClickAsync();
        await visitor.ArrivesAt("/");
        await visitor.Go("/");
        Assert.Equal("de", await visitor.Page.GetAttributeAsync("html", "lang"));
        Assert.Contains("Was jemanden braucht", await visitor.Page.InnerTextAsync("main"), StringComparison.Ordinal);
        Assert.Contains("Am tiefsten:", await visitor.Page.InnerTextAsync("main"), StringComparison.Ordinal);
        // What the monitor says of each alarm, too.
        await visitor.Go("/alarms");
        var standing = await visitor.Page.InnerTextAsync("section[aria-labelledby=standing]");
        Assert.Contains("Steckdose", standing, StringComparison.Ordinal);
        Assert.DoesNotContain("carries", standing, StringComparison.Ordinal);
        Assert.Contains("die Grenze wurde überschritten", await visitor.Page.InnerTextAsync("section[aria-labelledby=changes]"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_a_tick_changes_comes_onto_the_screen_by_itself()
    {
        await using var visitor = await chromium.Visit(demo.Home);
        await visitor.Go("/");
        var before = await visitor.Page.InnerTextAsync(".clock");
        await Assertions.Expect(visitor.Page.Locator(".clock")).Not.ToHaveTextAsync(before);
    }
}
