using System.Net.Http.Json;
using System.Runtime.CompilerServices;
using System.Text.Json.Nodes;
using Microsoft.Playwright;

namespace Farberth.Console.Tests;

/// <summary>
/// The pictures in docs/console, taken from the demo: <c>dotnet test --project tests/Console -c Release -- -explicit only -class "*Screens"</c>.
/// </summary>
public class Screens(Chromium chromium) : IClassFixture<Chromium>
{
    static readonly CancellationToken Cancel = TestContext.Current.CancellationToken;

    [Fact(Explicit = true)]
    public async Task Are_taken_anew()
    {
        var demo = new Demo { UntilHot = false };
        await demo.InitializeAsync();
        try
        {
            await Take(demo.Home, "/", "quiet", 1024);
            await demo.Hot();
            var boater = await BoatersPage(demo.Home, "H-30");
            await Take(demo.Home, "/", "afternoon", 1920);
            await Take(demo.Home, "/", "afternoon-night", 1024, isNight: true);
            await Take(demo.Home, "/alarms/H.H18.A.overload", "alarm", 1024);
            await Take(demo.Home, "/bench/H", "bench", 1024);
            await Take(demo.Home, boater, "boater", 390, isLive: false);
        }
        finally
        {
            await demo.DisposeAsync();
        }
    }

    async Task Take(Uri home, string path, string name, int width, bool isNight = false, bool isLive = true)
    {
        await using var visitor = await chromium.Visit(home, width, isNight);
        await visitor.Go(path, isLive);
        await visitor.Page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await visitor.Page.ScreenshotAsync(new() { Path = Path.Combine(Folder(), $"{name}.png"), FullPage = width < 500 });
    }

    static async Task<string> BoatersPage(Uri home, string slip)
    {
        using var client = new HttpClient { BaseAddress = home };
        client.DefaultRequestHeaders.Add("X-Farberth", "1");
        var now = DateTimeOffset.Parse((string)(await client.GetFromJsonAsync<JsonNode>("/api/view", Cancel))!["now"]!, System.Globalization.CultureInfo.InvariantCulture);
        using var made = await client.PostAsJsonAsync("/api/stays", new { slip, boat = "Otterling", from = now.AddHours(-20), to = now.AddDays(2) }, Cancel);
        var stay = (await made.Content.ReadFromJsonAsync<JsonNode>(Cancel))!;
        return new Uri((string)(await client.GetFromJsonAsync<JsonNode>($"/api/stays/{stay["id"]}/link", Cancel))!["link"]!).PathAndQuery;
    }

    static string Folder([CallerFilePath] string here = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "../../docs/console"));
}
