using System.Net;
using System.Net.Http.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Farberth.Adapters.Tests.Notifiers;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Service;

/// <summary>The real service as a harbormaster and a boater meet it: a stay, its link and code, the page, and being told by mail.</summary>
public sealed class BoaterPage : IAsyncLifetime
{
    const string Prefix = "farberth/v1/gullhaven/";

    static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml");

    readonly CancellationTokenSource giveUp = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
    readonly TemporaryFolder folder = new();
    MosquittoBroker broker = null!;

    public BoaterPage() => giveUp.CancelAfter(TimeSpan.FromMinutes(2));

    CancellationToken Cancel => giveUp.Token;

    public async ValueTask InitializeAsync() => broker = await MosquittoBroker.Start(Cancel);

    public async ValueTask DisposeAsync()
    {
        await broker.DisposeAsync();
        folder.Dispose();
        giveUp.Dispose();
    }

    [Fact]
    public async Task The_link_of_a_stay_shows_what_to_switch_off_and_closes_when_it_is_revoked()
    {
        await using var service = await StartedService.Connected(SiteFile, broker);
        var (id, link) = await Stay(service);
        await Overload(service);
        await service.WhenView(view => view["docks"]![0]!["asked"]!.AsArray().Any(asked => (string)asked!["slip"]! == "G-2"));

        Assert.Equal(link, QrCode.Read(await service.Browser.GetStringAsync($"/api/stays/{id}/code.svg", Cancel)));
        Assert.Contains("<svg", await service.Browser.GetStringAsync($"/api/stays/{id}/card", Cancel));
        var (status, page) = await Open(service, link);
        Assert.Equal(200, status);
        Assert.Matches("Please switch off about [0-9.]+ A until", page);
        Assert.DoesNotMatch(@"\bG-?1\b", page);
        Assert.Contains("Bitte schalten Sie bis", (await Open(service, link + "?lang=de")).Text);

        Assert.Equal(404, (await Open(service, link[..^2])).Status);
        Assert.Equal(HttpStatusCode.OK, (await service.Browser.PostAsync($"/api/stays/{id}/revoke", null, Cancel)).StatusCode);
        var (gone, closed) = await Open(service, link);
        Assert.Equal(410, gone);
        Assert.DoesNotContain("G-2", closed);
        Assert.DoesNotContain("Osprey", closed);
    }

    [Fact]
    public async Task What_happened_in_the_slip_stands_there_for_its_boat_and_not_for_the_next()
    {
        await using var service = await StartedService.Connected(SiteFile, broker);
        var (id, link) = await Stay(service);
        await Overload(service);
        await service.WhenView(view => view["alarms"]!.AsArray().Any(alarm => (string)alarm!["id"]! == "G.G2.A.overload"));
        Assert.Contains("too many amps (outlet A), still on", await When(service, link, page => page.Contains("still on", StringComparison.Ordinal)));

        await service.Browser.PostAsync($"/api/stays/{id}/end", null, Cancel);
        var (_, next) = await Stay(service, boat: "Tern", fromHour: 0);
        Assert.Equal(410, (await Open(service, link)).Status);
        Assert.DoesNotContain("too many amps (outlet A)", (await Open(service, next)).Text);
    }

    [Fact]
    public async Task Another_boat_in_the_slip_is_refused_in_words()
    {
        await using var service = await StartedService.Connected(SiteFile, broker);
        await Stay(service);

        var answer = await Ask(service, "Tern", fromHour: -1);

        Assert.Equal(HttpStatusCode.Conflict, answer.StatusCode);
        Assert.StartsWith("Osprey lies in slip G-2 from", (string?)JsonNode.Parse(await answer.Content.ReadAsStringAsync(Cancel))!["detail"]);
    }

    [Fact]
    public async Task Who_says_yes_in_his_mail_is_told_of_his_own_slip_until_he_stops_it()
    {
        await using var mail = MailServer.Start();
        await File.WriteAllTextAsync(folder["notify.yaml"], $$"""
            mail: { server: "127.0.0.1:{{mail.Port}}", from: dock@example.org, tls: none }
            people:
              - { name: Office, role: electrician, webhook: "http://127.0.0.1:9/nobody" }
            """, Cancel);
        await using var service = await StartedService.Connected(SiteFile, broker, "--notify", folder["notify.yaml"]);
        var (_, link) = await Stay(service);
        Assert.Contains("no e-mail address", await Send(service, link, "nobody", "start"));
        Assert.Contains("A mail is on its way", await Send(service, link, "ana@example.org", "start"));

        var question = await mail.Next();
        Assert.Equal("ana@example.org", question.To.Mailboxes.Single().Address);
        var confirm = Regex.Match(question.TextBody!, @"http://\S+").Value;
        Assert.StartsWith(link + "/mail/", confirm);
        Assert.Contains("<form method=\"post\"", (await Open(service, confirm)).Text);
        Assert.Contains("is told until your stay ends", await (await service.Browser.PostAsync(confirm, null, Cancel)).Content.ReadAsStringAsync(Cancel));

        await Overload(service);
        var told = await mail.Next();
        Assert.Equal("ana@example.org", told.To.Mailboxes.Single().Address);
        Assert.Contains("pedestal G2", told.TextBody);
        Assert.Contains("not told any more", await Send(service, link, "ana@example.org", "stop"));
    }

    /// <summary>The page with the answer.</summary>
    async Task<string> Send(StartedService service, string link, string address, string what)
    {
        using var form = new FormUrlEncodedContent(new Dictionary<string, string> { ["address"] = address, ["do"] = what });
        using var answer = await service.Browser.PostAsync(link + "/mail?lang=en", form, Cancel);
        return WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(Cancel));
    }

    async Task<(int Id, string Link)> Stay(StartedService service, string boat = "Osprey", double fromHour = -1)
    {
        var answer = await Ask(service, boat, fromHour);
        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
        var id = (int)JsonNode.Parse(await answer.Content.ReadAsStringAsync(Cancel))!["id"]!;
        return (id, (string)(await service.Get($"/api/stays/{id}/link"))["link"]!);
    }

    Task<HttpResponseMessage> Ask(StartedService service, string boat, double fromHour) => service.Browser.PostAsJsonAsync(
        "/api/stays", new { slip = "G-2", boat, from = DateTimeOffset.UtcNow.AddHours(fromHour), to = DateTimeOffset.UtcNow.AddDays(3) }, Cancel);

    async Task<(int Status, string Text)> Open(StartedService service, string link)
    {
        using var answer = await service.Browser.GetAsync(link, Cancel);
        Assert.Equal(("no-store", "no-referrer", "noindex, nofollow"), (
            answer.Headers.CacheControl!.ToString(), answer.Headers.GetValues("Referrer-Policy").Single(), answer.Headers.GetValues("X-Robots-Tag").Single()));
        return ((int)answer.StatusCode, WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(Cancel)));
    }

    /// <summary>The page once it meets the condition: the journal is written and read by others meanwhile.</summary>
    async Task<string> When(StartedService service, string link, Func<string, bool> condition)
    {
        string text;
        do
            text = (await Open(service, link)).Text;
        while (!condition(text));
        return text;
    }

    /// <summary>One reading alone may be a motor's start.</summary>
    async Task Overload(StartedService service)
    {
        await Readings();
        await service.WhenView(view => view["docks"]![0]!["outlets"]!.AsArray().Any(outlet => (double)outlet!["amps"]! > 31));
        await Readings();
    }

    async Task Readings()
    {
        await broker.Publish(Prefix + "pedestal/G1/reading", Reading(119.1, 2), Cancel);
        await broker.Publish(Prefix + "pedestal/G2/reading", Reading(114.6, 31.4), Cancel);
    }

    static string Reading(double volts, double amps) => new JsonObject
    {
        ["time"] = DateTimeOffset.UtcNow.ToString("O"),
        ["volts"] = new JsonObject { ["L1"] = volts, ["L2"] = 120.3 },
        ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps }, ["closed"] = true } },
    }.ToJsonString();
}
