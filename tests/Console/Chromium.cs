using Microsoft.Playwright;

namespace Farberth.Console.Tests;

/// <summary>The system's browser, driven from outside; one for all tests.</summary>
public sealed class Chromium : IAsyncLifetime
{
    const string Program = "/usr/bin/chromium";

    /// <summary>How long a page may take to show what is asked of it. No claim of speed (<see cref="HowFast"/> measures that): the other tests share the processors.</summary>
    static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    IPlaywright driver = default!;
    IBrowser browser = default!;

    public async ValueTask InitializeAsync()
    {
        driver = await Playwright.CreateAsync();
        Assertions.SetDefaultExpectTimeout((float)Patience.TotalMilliseconds);
        browser = await driver.Chromium.LaunchAsync(new() { ExecutablePath = Program, Args = ["--no-sandbox"] });
    }

    /// <summary>Somebody at a screen, with cookies of his own.</summary>
    public async Task<Visitor> Visit(Uri home, int width = 1024, bool isNight = false, bool hasScript = true)
    {
        var context = await browser.NewContextAsync(new()
        {
            BaseURL = home.ToString(),
            ViewportSize = new() { Width = width, Height = width < 500 ? 844 : 900 },
            ColorScheme = isNight ? ColorScheme.Dark : ColorScheme.Light,
            JavaScriptEnabled = hasScript,
        });
        context.SetDefaultTimeout((float)Patience.TotalMilliseconds);
        return new Visitor(context, await context.NewPageAsync(), home);
    }

    public async ValueTask DisposeAsync()
    {
        await browser.CloseAsync();
        driver.Dispose();
    }
}
