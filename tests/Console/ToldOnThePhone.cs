using System.Text.Json;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Farberth.Console.Tests;

/// <summary>
/// A boater's browser is told by Web Push, as far as a browser can be tried without its vendor's push service: the page's real service worker is
/// registered, the page asks for a subscription with the service's key and hands it over, and a push event that the browser itself delivers to
/// the worker becomes a notification.
/// Not covered: that a push service takes the subscription and the message (a stand-in answers <c>subscribe</c> here; the message's encryption
/// and headers are tried against the standards' examples in tests/Adapters), how a notification looks on a phone, and a touch on it or on its button, which
/// nothing can press from outside.
/// </summary>
public class ToldOnThePhone(TellingMarina marina) : IClassFixture<TellingMarina>
{
    /// <summary>In place of the vendor's push service; keeps what it was asked for.</summary>
    const string StandIn = """
        PushManager.prototype.subscribe = function (asked) {
          window.asked = asked;
          const told = { endpoint: 'https://push.example.org/1', keys: {
            p256dh: 'BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4', auth: 'BTBZMqHH6r4Tts7J_aSIgg' } };
          return Promise.resolve({ ...told, toJSON: () => told });
        };
        """;

    [Fact]
    public async Task The_page_asks_for_a_subscription_and_what_is_pushed_is_shown()
    {
        await using var hollis = await marina.As(Marina.Harbormaster);
        var link = (await hollis.WritesDownOtterling()).Split('?')[0];
        await using var boater = await marina.Chromium.Visit(marina.Home, width: 390);
        await boater.Page.Context.GrantPermissionsAsync(["notifications"]);
        await boater.Page.AddInitScriptAsync(StandIn);
        var devtools = await boater.Page.Context.NewCDPSessionAsync(boater.Page);
        var registered = new TaskCompletionSource<string>();
        devtools.Event("ServiceWorker.workerRegistrationUpdated").OnEvent += (_, told) =>
        {
            foreach (var one in told!.Value.GetProperty("registrations").EnumerateArray())
                registered.TrySetResult(one.GetProperty("registrationId").GetString()!);
        };
        await devtools.SendAsync("ServiceWorker.enable");
        await boater.Go(link + "?lang=de", isLive: false);

        await boater.Page.GetByRole(AriaRole.Button, new() { Name = "Dieses Telefon benachrichtigen" }).ClickAsync();
        await Expect(boater.Page.Locator("#push [role=status]")).ToHaveTextAsync("Dieses Telefon wird benachrichtigt, bis Ihr Aufenthalt endet.");
        Assert.True(await boater.Page.EvaluateAsync<bool>("asked.userVisibleOnly"));
        // Of that private key the public one, as the standard's example has it.
        Assert.Equal("BP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A8", await boater.Page.EvaluateAsync<string>("asked.applicationServerKey"));

        var message = """{"title":"gullhaven: Zu viel Strom (Steckdose A).","body":"Schalten Sie etwas ab.","tag":"G.G2.A.overload","priority":"high","stop":"STOP","stop-button":"Keine Nachrichten mehr"}""";
        await devtools.SendAsync("ServiceWorker.deliverPushMessage", new()
        {
            ["origin"] = marina.Home.GetLeftPart(UriPartial.Authority), ["registrationId"] = await registered.Task, ["data"] = message.Replace("STOP", new Uri(marina.Home, "/b/stop/x").AbsoluteUri, StringComparison.Ordinal),
        });
        var shown = await Shown(boater.Page);
        Assert.Equal(("gullhaven: Zu viel Strom (Steckdose A).", "Schalten Sie etwas ab.", "G.G2.A.overload", true), (
            shown.GetProperty("title").GetString(), shown.GetProperty("body").GetString(), shown.GetProperty("tag").GetString(), shown.GetProperty("stays").GetBoolean()));
        Assert.Equal("stop: Keine Nachrichten mehr", shown.GetProperty("button").GetString());
        Assert.EndsWith("/b/stop/x", shown.GetProperty("data").GetString());
        Assert.Empty(boater.Complaints);
        Assert.Empty(await boater.Barriers());
    }

    [Fact]
    public async Task Who_does_not_allow_it_is_told_so()
    {
        await using var hollis = await marina.As(Marina.Harbormaster);
        await using var boater = await marina.Chromium.Visit(marina.Home, width: 390);
        await boater.Page.AddInitScriptAsync("PushManager.prototype.subscribe = () => Promise.reject(new DOMException('no', 'NotAllowedError'));");
        await boater.Go((await hollis.WritesDownOtterling()).Split('?')[0], isLive: false);

        await boater.Page.GetByRole(AriaRole.Button, new() { Name = "Tell this phone" }).ClickAsync();
        await Expect(boater.Page.Locator("#push [role=status]")).ToHaveTextAsync("The phone does not allow it, or its push service did not answer.");
    }

    /// <summary>The notification, once the worker has made it.</summary>
    static async Task<JsonElement> Shown(IPage page) => await page.EvaluateAsync<JsonElement>("""
        async () => {
          const worker = await navigator.serviceWorker.ready;
          for (;;) {
            const [first] = await worker.getNotifications();
            if (first)
              return { title: first.title, body: first.body, tag: first.tag, stays: first.requireInteraction, data: first.data,
                button: first.actions.map(one => `${one.action}: ${one.title}`).join() };
            await new Promise(later => setTimeout(later, 50));
          }
        }
        """).WaitAsync(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken);
}
