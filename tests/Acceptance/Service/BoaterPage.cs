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

        Assert.EndsWith(link, QrCode.Read(await service.Browser.GetStringAsync($"/api/stays/{id}/code.svg", Cancel)));
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
    public async Task Who_says_yes_in_his_mail_is_told_of_his_own_slip_in_his_language_until_he_stops_it()
    {
        await using var mail = MailServer.Start();
        await using var service = await WithMail(mail);
        var (_, link) = await Stay(service);
        Assert.Contains("no e-mail address", await Send(service, link, "nobody", "start"));
        Assert.Contains("Eine E-Mail ist unterwegs", await Send(service, link, "ana@example.org", "start", "de"));

        var question = await mail.Next();
        Assert.Equal("ana@example.org", question.To.Mailboxes.Single().Address);
        var confirm = new Uri(Regex.Match(question.TextBody!, @"https://\S+").Value);
        Assert.StartsWith(link + "/mail/", confirm.AbsolutePath);
        Assert.Contains("<form method=\"post\"", (await Open(service, confirm.PathAndQuery)).Text);
        Assert.Contains("Diese Adresse wird benachrichtigt", await (await service.Browser.PostAsync(confirm.PathAndQuery, null, Cancel)).Content.ReadAsStringAsync(Cancel));

        await Overload(service);
        var told = await mail.Next();
        Assert.Equal("ana@example.org", told.To.Mailboxes.Single().Address);
        Assert.Contains("Liegeplatz G-2", told.TextBody);
        Assert.DoesNotMatch(@"\bG-?1\b", told.Subject + told.TextBody);
        Assert.Contains("Niemand schwimmt", told.TextBody);
        Assert.Contains("nicht mehr benachrichtigt", await Send(service, link, "ana@example.org", "stop", "de"));
    }

    /// <summary>As a mail program does it for its reader (RFC 8058, section 3.2): the address in the header, one POST with this body, no cookie.</summary>
    [Fact]
    public async Task One_press_in_the_mail_program_ends_it_without_signing_in()
    {
        await using var mail = MailServer.Start();
        await using var service = await WithMail(mail);
        var (_, link) = await Stay(service);
        foreach (var address in new[] { "ana@example.org", "bo@example.org" })
        {
            await Send(service, link, address, "start");
            await service.Browser.PostAsync(new Uri(Regex.Match((await mail.Next()).TextBody!, @"https://\S+").Value).PathAndQuery, null, Cancel);
        }
        await Overload(service);
        var told = await Told(mail, "ana@example.org");
        var stop = new Uri(told.Headers["List-Unsubscribe"]!.Trim('<', '>'));
        Assert.Equal("List-Unsubscribe=One-Click", told.Headers["List-Unsubscribe-Post"]);
        Assert.Contains(stop.AbsoluteUri, told.TextBody);
        Assert.Contains("<form method=\"post\"", (await Open(service, stop.PathAndQuery)).Text); // looking at it ends nothing

        using var stranger = new HttpClient(new HttpClientHandler { UseCookies = false, AllowAutoRedirect = false }) { BaseAddress = service.Browser.BaseAddress };
        using var body = new FormUrlEncodedContent(new Dictionary<string, string> { ["List-Unsubscribe"] = "One-Click" });
        using var answer = await stranger.PostAsync(stop.PathAndQuery, body, Cancel);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Contains("You are told nothing more here", await answer.Content.ReadAsStringAsync(Cancel));
        Assert.Equal(HttpStatusCode.NotFound, (await stranger.PostAsync(stop.AbsolutePath[..^1], null, Cancel)).StatusCode);

        await service.WhenView(view => view["alarms"]!.AsArray().Any(alarm => (string)alarm!["id"]! == "G.G2.A.overload"));
        await Relax(service);
        Assert.Equal("bo@example.org", (await Over(mail)).To.Mailboxes.Single().Address);
        await Send(service, link, "ana@example.org", "start");
        Assert.DoesNotContain("Over:", (await Told(mail, "ana@example.org")).Subject); // the next that she gets is the question whether she means it
        Assert.Equal(200, (await Open(service, link)).Status); // the page is still his
    }

    /// <summary>The next mail to somebody that tells of an event.</summary>
    static async Task<MimeKit.MimeMessage> Told(MailServer mail, string address)
    {
        while (true)
            if (await mail.Next() is var told && told.To.Mailboxes.Single().Address == address)
                return told;
    }

    /// <summary>The first mail that says that something is over; all who are told of it are told at the same moment.</summary>
    static async Task<MimeKit.MimeMessage> Over(MailServer mail)
    {
        while (true)
            if (await mail.Next() is var told && told.Subject!.Contains("Over:", StringComparison.Ordinal))
                return told;
    }

    async Task Relax(StartedService service)
    {
        for (var amps = 2; await IsOverloaded(service); amps = 3 - amps)
        {
            await broker.Publish(Prefix + "pedestal/G1/reading", Reading(120, 2), Cancel);
            await broker.Publish(Prefix + "pedestal/G2/reading", Reading(120, amps), Cancel);
            await service.WhenTicked();
        }
    }

    static async Task<bool> IsOverloaded(StartedService service) =>
        (await service.Get("/api/view"))["alarms"]!.AsArray().Any(alarm => (string)alarm!["id"]! == "G.G2.A.overload" && (string)alarm["state"]! is "unacknowledged");

    async Task<StartedService> WithMail(MailServer mail)
    {
        await File.WriteAllTextAsync(folder["notify.yaml"], $$"""
            mail: { server: "127.0.0.1:{{mail.Port}}", from: dock@example.org, tls: none }
            people:
              - { name: Office, role: electrician, webhook: "http://127.0.0.1:9/nobody" }
            """, Cancel);
        return await StartedService.Connected(SiteFile, broker, "--notify", folder["notify.yaml"], "--address", "https://dock.example.org");
    }

    /// <summary>The page with the answer.</summary>
    async Task<string> Send(StartedService service, string link, string address, string what, string language = "en")
    {
        using var form = new FormUrlEncodedContent(new Dictionary<string, string> { ["address"] = address, ["do"] = what });
        using var answer = await service.Browser.PostAsync($"{link}/mail?lang={language}", form, Cancel);
        return WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(Cancel));
    }

    async Task<(int Id, string Link)> Stay(StartedService service, string boat = "Osprey", double fromHour = -1)
    {
        var answer = await Ask(service, boat, fromHour);
        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
        var id = (int)JsonNode.Parse(await answer.Content.ReadAsStringAsync(Cancel))!["id"]!;
        return (id, new Uri((string)(await service.Get($"/api/stays/{id}/link"))["link"]!).AbsolutePath);
    }

    Task<HttpResponseMessage> Ask(StartedService service, string boat, double fromHour) => service.Browser.PostAsJsonAsync(
        "/api/stays", new { slip = "G-2", boat, from = DateTimeOffset.UtcNow.AddHours(fromHour), to = DateTimeOffset.UtcNow.AddDays(3) }, Cancel);

    async Task<(int Status, string Text)> Open(StartedService service, string link)
    {
        using var answer = await service.Browser.GetAsync(link, Cancel);
        Assert.Equal((true, "no-referrer", "noindex, nofollow"), (
            answer.Headers.CacheControl!.NoStore, answer.Headers.GetValues("Referrer-Policy").Single(), answer.Headers.GetValues("X-Robots-Tag").Single()));
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
