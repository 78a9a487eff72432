namespace Farberth.Console.Tests;

/// <summary>
/// With thirty alarms at once, on a phone, an office screen and a wall: whatever stands there can be read and reached. With SHOTS=FOLDER a picture of
/// each page is kept, to be looked at.
/// </summary>
public class ThirtyAlarms(CrowdedMarina marina) : IClassFixture<CrowdedMarina>
{
    public static TheoryData<string, int, bool> Pages()
    {
        var all = new TheoryData<string, int, bool>();
        foreach (var page in new[] { "/", "/alarms", "/bench/G" })
            foreach (var width in new[] { 390, 1024, 1920 })
                foreach (var isNight in new[] { false, true })
                    all.Add(page, width, isNight);
        return all;
    }

    [Theory, MemberData(nameof(Pages))]
    public async Task A_page_has_no_barrier_and_nothing_runs_off_it(string path, int width, bool isNight)
    {
        await using var hollis = await marina.As(Marina.Harbormaster, width, isNight);
        await hollis.Go(path);
        Assert.Empty(await hollis.Barriers());
        Assert.False(await hollis.ScrollsSideways());
        Assert.Empty(hollis.Complaints);
        if (Environment.GetEnvironmentVariable("SHOTS") is { } folder)
            await hollis.Page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{path.Replace('/', '_')}-{width}-{(isNight ? "night" : "day")}.png"), FullPage = true });
    }

    [Fact]
    public async Task The_first_page_says_how_many_there_are_shows_the_most_pressing_and_leads_to_all()
    {
        await using var vic = await marina.As(Marina.Viewer);
        await vic.Go("/");
        var said = await vic.Page.InnerTextAsync("h1");
        Assert.True(int.Parse(System.Text.RegularExpressions.Regex.Matches(said, @"\d+")[^1].Value, System.Globalization.CultureInfo.InvariantCulture) >= CrowdedMarina.Alarms, said);
        await vic.Page.Locator(".need a[href='/alarms']").ClickAsync();
        await Microsoft.Playwright.Assertions.Expect(vic.Page.Locator("section[aria-labelledby=standing] ul.alarms > li")).Not.ToHaveCountAsync(0);
        Assert.True(await vic.Page.Locator("section[aria-labelledby=standing] ul.alarms > li").CountAsync() >= CrowdedMarina.Alarms);
    }
}
