using System.Net;
using System.Security.Cryptography;
using System.Text.RegularExpressions;
using System.Web;
using Farberth.Adapters.Mqtt;
using Farberth.Service.Access;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using Microsoft.IdentityModel.Tokens;
using Serilog;

namespace Farberth.Service.Tests.Access;

/// <summary>The real service and an identity server of the test's own; a browser's way between the two, one redirect at a time.</summary>
public sealed class SigningInElsewhere : IAsyncLifetime
{
    readonly FakeTimeProvider clock = new(DateTimeOffset.UtcNow);
    readonly HttpClient browser = new(new HttpClientHandler { AllowAutoRedirect = false, CookieContainer = new() });
    IdentityServer identity = default!;
    RunningService service = default!;

    static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        identity = await IdentityServer.Start();
        await Serve(options => options);
    }

    public async ValueTask DisposeAsync()
    {
        await service.DisposeAsync();
        await identity.DisposeAsync();
        browser.Dispose();
    }

    [Fact]
    public async Task Whom_the_other_server_knows_is_let_in_with_the_role_that_it_gives_him()
    {
        Assert.Equal(new Uri(service.HttpAddress, "/"), await SignIn());

        Assert.Equal(HttpStatusCode.OK, await Status("/api/view"));
        Assert.Equal(HttpStatusCode.OK, await Status("/site-file")); // the electrician's
        Assert.Equal("/not-allowed", (await Get("/boats")).Headers.Location!.AbsolutePath); // the harbormaster's
        Assert.Contains("edda at 127.0.0.1", await (await Get("/reading")).Content.ReadAsStringAsync(Cancel));
        Assert.Contains("You are signed in without an account of this service.", WebUtility.HtmlDecode(await (await Get("/account")).Content.ReadAsStringAsync(Cancel)));
    }

    /// <summary>OpenID Connect Core 1.0, section 3.1.2.1; RFC 7636, section 4.3; RFC 9700, section 2.1.1.</summary>
    [Fact]
    public async Task It_is_asked_for_a_code_with_state_nonce_and_a_challenge()
    {
        var asked = HttpUtility.ParseQueryString((await Get("/sign-in/elsewhere")).Headers.Location!.Query);

        Assert.Equal(("code", "query", "S256", new Uri(service.HttpAddress, "/sign-in/back").AbsoluteUri), (asked["response_type"], asked["response_mode"] ?? "query", asked["code_challenge_method"], asked["redirect_uri"]));
        Assert.All(new[] { "state", "nonce", "code_challenge" }, name => Assert.True(asked[name]?.Length > 20, name));
    }

    [Fact]
    public async Task A_role_has_the_name_that_it_has_there_and_a_default_is_for_who_has_none()
    {
        await Serve(options => options with { RoleClaim = "groups", RoleNames = new Dictionary<string, string> { ["dock-staff"] = Roles.Harbormaster }, DefaultRole = Roles.Viewer });
        identity.Claims["groups"] = new[] { "dock-staff", "choir" };
        await SignIn();
        Assert.Equal(HttpStatusCode.OK, await Status("/boats"));

        await SignOut();
        identity.Claims["groups"] = "choir";
        await SignIn();
        Assert.Equal(HttpStatusCode.OK, await Status("/api/view"));
        Assert.Equal("/not-allowed", (await Get("/boats")).Headers.Location!.AbsolutePath);
    }

    [Fact]
    public async Task Who_has_no_role_here_is_not_let_in_and_the_audit_has_it()
    {
        identity.Claims["roles"] = new[] { "choir" };

        Assert.Equal("/not-allowed", (await SignIn()).AbsolutePath);
        Assert.Equal(HttpStatusCode.Unauthorized, await Status("/api/view"));
        Assert.Equal(("sign in elsewhere", "edda at 127.0.0.1", "has no role here"), await LastDeed());
    }

    public static TheoryData<string> Forgeries => ["key", "no signature", "nonce", "no nonce", "audience", "issuer", "expired"];

    [Theory]
    [MemberData(nameof(Forgeries))]
    public async Task A_token_that_is_not_good_signs_nobody_in(string wrong)
    {
        using var foreign = RSA.Create(2048);
        identity.Spoils = token => Spoil(token, wrong, foreign);

        Assert.Equal("/sign-in?failed=elsewhere", (await SignIn()).PathAndQuery);
        Assert.Equal(HttpStatusCode.Unauthorized, await Status("/api/view"));
        Assert.Equal("sign in elsewhere", (await LastDeed()).What);
        Assert.Contains("The other server has not signed you in.", await (await Get("/sign-in?failed=elsewhere")).Content.ReadAsStringAsync(Cancel));

        identity.Spoils = _ => { };
        Assert.Equal("/", (await SignIn()).AbsolutePath); // nothing else was wrong
    }

    [Fact]
    public async Task A_way_back_that_this_browser_was_not_sent_signs_nobody_in()
    {
        var there = (await Get("/sign-in/elsewhere")).Headers.Location!;
        var back = (await browser.GetAsync(there, Cancel)).Headers.Location!;
        using var victim = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false, CookieContainer = new() });

        using var answer = await victim.GetAsync(back, Cancel);

        Assert.Equal("/sign-in?failed=elsewhere", answer.Headers.Location!.OriginalString);
        Assert.Equal(HttpStatusCode.Unauthorized, (await victim.GetAsync(new Uri(service.HttpAddress, "/api/view"), Cancel)).StatusCode);
    }

    [Fact]
    public async Task Who_signs_out_is_signed_out_in_both_places()
    {
        await SignIn();

        Assert.Equal("/sign-in", (await SignOut()).AbsolutePath);
        Assert.Contains("form-action 'self';", (await Get("/sign-in")).Headers.GetValues("Content-Security-Policy").Single(), StringComparison.Ordinal);
        Assert.NotEmpty(identity.SignedOut!["id_token_hint"].ToString()); // OpenID Connect RP-Initiated Logout 1.0, section 2
        Assert.Equal(HttpStatusCode.Unauthorized, await Status("/api/view"));
    }

    /// <summary>Accounts of this service are looked at again every half an hour, and he has none.</summary>
    [Fact]
    public async Task He_stays_signed_in_as_long_as_the_cookie_is_good()
    {
        await SignIn();

        clock.Advance(TimeSpan.FromHours(11));
        Assert.Equal(HttpStatusCode.OK, await Status("/api/view"));
        clock.Advance(TimeSpan.FromHours(13));
        Assert.Equal(HttpStatusCode.Unauthorized, await Status("/api/view"));
    }

    static void Spoil(SecurityTokenDescriptor token, string wrong, RSA foreign)
    {
        var now = DateTime.UtcNow;
        switch (wrong)
        {
            case "key":
                token.SigningCredentials = new(new RsaSecurityKey(foreign) { KeyId = "one" }, SecurityAlgorithms.RsaSha256);
                break;
            case "no signature":
                token.SigningCredentials = null;
                break;
            case "nonce":
                token.Claims["nonce"] = "that of another day";
                break;
            case "no nonce":
                token.Claims.Remove("nonce");
                break;
            case "audience":
                token.Audience = "another service";
                break;
            case "issuer":
                token.Issuer = "https://id.example.org";
                break;
            default:
                (token.IssuedAt, token.NotBefore, token.Expires) = (now.AddHours(-2), now.AddHours(-2), now.AddHours(-1));
                break;
        }
    }

    async Task Serve(Func<OpenIdOptions, OpenIdOptions> change)
    {
        if (service is not null)
            await service.DisposeAsync();
        var site = Given.FourPosts();
        service = await RunningService.Start(
            new ServiceOptions(site, new MqttOptions("127.0.0.1", 0, ServiceOptions.ClientId(site)), BrokerPort: 0, new Uri("http://127.0.0.1:0"))
            {
                Access = new() { OpenId = change(new(identity.Issuer, IdentityServer.Client, IdentityServer.Secret)) },
            }, clock, Log.Logger);
    }

    /// <summary>There, back, and where that ends.</summary>
    async Task<Uri> SignIn()
    {
        var there = (await Get("/sign-in/elsewhere")).Headers.Location!;
        var back = (await browser.GetAsync(there, Cancel)).Headers.Location!;
        Assert.Equal(service.HttpAddress.Authority, back.Authority);
        return new(service.HttpAddress, (await browser.GetAsync(back, Cancel)).Headers.Location!);
    }

    async Task<Uri> SignOut()
    {
        var token = Regex.Match(await (await Get("/account")).Content.ReadAsStringAsync(Cancel), "name=\"__RequestVerificationToken\" value=\"([^\"]+)\"").Groups[1].Value;
        using var form = new FormUrlEncodedContent(new Dictionary<string, string> { ["__RequestVerificationToken"] = token });
        using var answer = await browser.PostAsync(new Uri(service.HttpAddress, "/sign-out"), form, Cancel);
        // A page that leads on, not an answer that does: to a browser, that would be the form going to another host (CSP Level 3, form-action).
        var at = answer.Headers.Location ?? new Uri(answer.Headers.GetValues("Refresh").Single()["0; url=".Length..]);
        for (var step = 0; step < 2; step++)
            at = new(service.HttpAddress, (await browser.GetAsync(at, Cancel)).Headers.Location!);
        return at;
    }

    Task<HttpResponseMessage> Get(string path) => browser.GetAsync(new Uri(service.HttpAddress, path), Cancel);

    async Task<HttpStatusCode> Status(string path) => (await Get(path)).StatusCode;

    async Task<(string What, string Which, string Outcome)> LastDeed()
    {
        var deed = (await service.Parts.GetRequiredService<Audit>().Latest(1))[0];
        return (deed.What, deed.Which, deed.Outcome);
    }
}
