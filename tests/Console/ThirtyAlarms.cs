using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Farberth.Console.Tests;

/// <summary>
/// With thirty alarms at once, on a phone, an office screen and a wall: whatever stands there can be read and reached. With SHOTS=FOLDER a picture of
/// each page is kept, to be looked at.
/// </summary>
public class ThirtyAlarms(CrowdedMarina marina) : IClassFixture<CrowdedMarina>
{
    public static TheoryData<string, int> Pages()
    {
        var all = new TheoryData<string, int>();
        foreach (var page in new[] { "/", "/alarms", "/bench/G" })
            foreach (var width in new[] { 390, 1024, 1920 })
                all.Add(page, width);
        return all;
    }

    [Theory, MemberData(nameof(Pages))]
    public async Task A_page_has_no_barrier_by_day_and_by_night_and_nothing_runs_off_it(string path, int width)
    {
        await using var hollis = await marina.As(Marina.Harbormaster, width);
        await hollis.Go(path);
        foreach (var light in new[] { ColorScheme.Light, ColorScheme.Dark })
        {
            await hollis.Page.EmulateMediaAsync(new() { ColorScheme = light });
            Assert.Empty(await hollis.Barriers());
            Assert.False(await hollis.ScrollsSideways());
            if (Environment.GetEnvironmentVariable("SHOTS") is { } folder)
                await hollis.Page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{path.Replace('/', '_')}-{width}-{light}.png"), FullPage = true });
        }
        Assert.Empty(hollis.Complaints);
    }

    [Fact]
    public async Task The_first_page_says_how_many_there_are_shows_the_most_pressing_and_leads_to_all()
    {
        await using var vic = await marina.As(Marina.Viewer);
        await vic.Go("/");
        var said = await vic.Page.InnerTextAsync("h1");
        Assert.True(int.Parse(System.Text.RegularExpressions.Regex.Matches(said, @"\d+")[^1].Value, System.Globalization.CultureInfo.InvariantCulture) >= CrowdedMarina.Alarms, said);
        await vic.Page.Locator(".need a[href='/alarms']").ClickAsync();
        await Expect(vic.Page.Locator("section[aria-labelledby=standing] ul.alarms > li")).Not.ToHaveCountAsync(0);
        Assert.True(await vic.Page.Locator("section[aria-labelledby=standing] ul.alarms > li").CountAsync() >= CrowdedMarina.Alarms);
    }
}
