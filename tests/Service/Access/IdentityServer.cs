using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.IdentityModel.JsonWebTokens;
using Microsoft.IdentityModel.Tokens;

namespace Farberth.Service.Tests.Access;

/// <summary>
/// Somebody else's identity server on the loopback address, as far as a client sees one: discovery (OpenID Connect Discovery 1.0), authorization
/// and token endpoint (OpenID Connect Core 1.0, sections 3.1.2 and 3.1.3; RFC 7636), keys (RFC 7517), sign-out. It lets in whoever comes, as
/// the one whose claims it is told, and spoils its tokens where a test wants that.
/// </summary>
sealed class IdentityServer : IAsyncDisposable
{
    public const string Client = "farberth", Secret = "only the two of us know";

    readonly RSA key = RSA.Create(2048);
    readonly WebApplication app;
    readonly Dictionary<string, Asked> codes = [];

    IdentityServer(WebApplication app) => this.app = app;

    /// <param name="Challenge">Of PKCE.</param>
    sealed record Asked(string RedirectUri, string Nonce, string Challenge);

    public Uri Issuer => new(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First());

    /// <summary>Of whoever signs in.</summary>
    public Dictionary<string, object> Claims { get; } = new() { ["sub"] = "4711", ["preferred_username"] = "edda", ["roles"] = new[] { "electrician" } };

    /// <summary>What is wrong with its tokens.</summary>
    public Action<SecurityTokenDescriptor> Spoils { get; set; } = _ => { };

    /// <summary>What came to where one signs out.</summary>
    public IQueryCollection? SignedOut { get; private set; }

    SigningCredentials Own => new(new RsaSecurityKey(key) { KeyId = "one" }, SecurityAlgorithms.RsaSha256);

    public static async Task<IdentityServer> Start()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.Logging.ClearProviders();
        var app = builder.Build();
        var server = new IdentityServer(app);
        app.MapGet("/.well-known/openid-configuration", () => Results.Json(server.Discovery()));
        app.MapGet("/keys", () => Results.Json(new { keys = new[] { server.PublicKey() } }));
        app.MapGet("/authorize", server.Authorize);
        app.MapPost("/token", server.Token);
        app.MapGet("/leave", (HttpRequest request) =>
        {
            server.SignedOut = request.Query;
            return Results.Redirect($"{request.Query["post_logout_redirect_uri"]}?state={Uri.EscapeDataString(request.Query["state"]!)}");
        });
        await app.StartAsync(TestContext.Current.CancellationToken);
        return server;
    }

    public async ValueTask DisposeAsync()
    {
        await app.DisposeAsync();
        key.Dispose();
    }

    Dictionary<string, object> Discovery() => new()
    {
        ["issuer"] = Issuer.OriginalString, ["authorization_endpoint"] = new Uri(Issuer, "/authorize"), ["token_endpoint"] = new Uri(Issuer, "/token"),
        ["jwks_uri"] = new Uri(Issuer, "/keys"), ["end_session_endpoint"] = new Uri(Issuer, "/leave"),
        ["response_types_supported"] = new[] { "code" }, ["id_token_signing_alg_values_supported"] = new[] { "RS256" },
    };

    Dictionary<string, string> PublicKey()
    {
        var parts = key.ExportParameters(includePrivateParameters: false);
        return new() { ["kty"] = "RSA", ["use"] = "sig", ["kid"] = "one", ["n"] = Base64UrlEncoder.Encode(parts.Modulus), ["e"] = Base64UrlEncoder.Encode(parts.Exponent) };
    }

    IResult Authorize(HttpRequest request)
    {
        var asked = request.Query;
        if (asked["client_id"] != Client || asked["response_type"] != "code" || asked["code_challenge_method"] != "S256" || !asked["scope"].ToString().Split(' ').Contains("openid"))
            return Results.BadRequest();
        var code = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        codes[code] = new(asked["redirect_uri"]!, asked["nonce"]!, asked["code_challenge"]!);
        return Results.Redirect($"{asked["redirect_uri"]}?code={code}&state={Uri.EscapeDataString(asked["state"]!)}");
    }

    async Task<IResult> Token(HttpRequest request)
    {
        var form = await request.ReadFormAsync();
        // A code is good once, for whoever knows the secret and what the challenge was made from.
        var isGood = codes.Remove(form["code"]!, out var asked) && asked.RedirectUri == form["redirect_uri"] && form["client_secret"] == Secret
            && asked.Challenge == Base64UrlEncoder.Encode(SHA256.HashData(Encoding.ASCII.GetBytes(form["code_verifier"]!)));
        if (!isGood)
            return Results.Json(new { error = "invalid_grant" }, statusCode: StatusCodes.Status400BadRequest);
        var now = DateTime.UtcNow;
        var token = new SecurityTokenDescriptor
        {
            Issuer = Issuer.OriginalString, Audience = Client, IssuedAt = now, NotBefore = now, Expires = now.AddMinutes(5),
            Claims = new Dictionary<string, object>(Claims) { ["nonce"] = asked!.Nonce }, SigningCredentials = Own,
        };
        Spoils(token);
        return Results.Json(new { access_token = "nothing is asked with it", token_type = "Bearer", id_token = new JsonWebTokenHandler().CreateToken(token) });
    }
}
