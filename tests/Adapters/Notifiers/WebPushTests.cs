using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Farberth.Adapters.Notifiers;
using Farberth.Adapters.Notifiers.WebPush;
using Farberth.Monitoring.Ports;
using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests.Notifiers;

/// <summary>Against a web server in the push service's place, which is given the browser's private key to read what came.</summary>
public sealed class WebPushTests : NotifierTests, IAsyncLifetime
{
    // The example of RFC 8291, section 5 and appendix A (from memory; the ciphertext comes out as printed).
    const string UaPublic = "BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4";
    const string UaPrivate = "q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94";
    const string AsPublic = "BP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A8";
    const string AsPrivate = "yfWPiYE-n46HLnH0KqZOF1fJJU3MYrct3AELtAQ-oRw";
    const string AuthSecret = "BTBZMqHH6r4Tts7J_aSIgg";
    const string Salt = "DGv6ra1nlYgDCS1FRnbzlw";
    const string Body = "DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A_yl95bQpu6cVPTpK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN";

    static readonly VapidKey Vapid = VapidKey.Read(new Secret(AsPrivate), "mailto:office@example.org");
    static readonly PushNotifier Notifier = new(Vapid, TimeProvider.System, Within);

    HttpReceiver receiver = null!;

    public async ValueTask InitializeAsync() => receiver = await HttpReceiver.Start();

    public ValueTask DisposeAsync() => receiver.DisposeAsync();

    Address Subscription => new(Channel.Push, $$$"""{"endpoint":"{{{receiver.Url}}}/push/1","keys":{"p256dh":"{{{UaPublic}}}","auth":"{{{AuthSecret}}}"}}""");

    [Fact]
    public void A_message_is_encrypted_as_in_the_standards_example()
    {
        using var sender = Key256(AsPublic, AsPrivate);
        var body = PushEncryption.Encrypt("When I grow up, I want to be a watermelon"u8, Bytes(UaPublic), Bytes(AuthSecret), sender, Bytes(Salt));

        Assert.Equal(Body, Base64Url.EncodeToString(body));
    }

    [Fact]
    public async Task The_browser_can_read_what_it_is_sent_and_the_push_service_sees_how_urgent_it_is()
    {
        Assert.IsType<TellingOutcome.Delivered>(await Notifier.Tell(OpenNeutral(), Subscription, Cancel));
        var request = await receiver.Next();

        Assert.Equal(("/push/1", "aes128gcm", "high", "86400"), (request.Path, request.Headers["Content-Encoding"], request.Headers["Urgency"], request.Headers["TTL"]));
        Assert.Matches("^[A-Za-z0-9_-]{1,32}$", request.Headers["Topic"]);
        var payload = JsonNode.Parse(Decrypted(request.Body))!;
        Assert.Equal("eastharbour: The neutral of cable C7 is open.", (string?)payload["title"]);
        Assert.EndsWith("Local codes and licensed people first.", (string?)payload["body"]);
    }

    [Fact]
    public async Task A_boaters_browser_gets_the_way_out_and_the_words_of_its_button()
    {
        await Notifier.Tell(ToBoater(), Subscription, Cancel);
        var payload = JsonNode.Parse(Decrypted((await receiver.Next()).Body))!;

        Assert.Equal(("https://dock.example.org/b/stop/c3RvcA?lang=de", "Keine Nachrichten mehr"), ((string?)payload["stop"], (string?)payload["stop-button"]));
        Assert.EndsWith("Niemand schwimmt an einem Steg mit Strom.", (string?)payload["body"]);
    }

    [Fact]
    public async Task The_token_is_signed_for_this_push_service_and_ends_within_a_day()
    {
        await Notifier.Tell(OpenNeutral(), Subscription, Cancel);
        var parts = (await receiver.Next()).Headers["Authorization"]["vapid t=".Length..].Split(", k=");
        var token = parts[0].Split('.');

        var point = Bytes(parts[1]);
        using var key = ECDsa.Create(new ECParameters { Curve = ECCurve.NamedCurves.nistP256, Q = new() { X = point[1..33], Y = point[33..] } });
        Assert.True(key.VerifyData(Encoding.ASCII.GetBytes($"{token[0]}.{token[1]}"), Bytes(token[2]), HashAlgorithmName.SHA256));
        Assert.Equal("""{"typ":"JWT","alg":"ES256"}""", Encoding.UTF8.GetString(Bytes(token[0])));
        var claims = JsonDocument.Parse(Bytes(token[1])).RootElement;
        Assert.Equal((receiver.Url, "mailto:office@example.org"), (claims.GetProperty("aud").GetString(), claims.GetProperty("sub").GetString()));
        var left = DateTimeOffset.FromUnixTimeSeconds(claims.GetProperty("exp").GetInt64()) - TimeProvider.System.GetUtcNow();
        Assert.InRange(left, TimeSpan.FromHours(1), TimeSpan.FromHours(24));
        Assert.Equal(AsPublic, Vapid.PublicKey);
    }

    [Fact]
    public async Task A_long_text_is_cut_and_the_caution_stays()
    {
        Assert.IsType<TellingOutcome.Delivered>(await Notifier.Tell(OpenNeutral(string.Concat(Enumerable.Repeat("Größer als \"alles\" \U0001F525. ", 600))), Subscription, Cancel));
        var request = await receiver.Next();

        Assert.InRange(request.Body.Length, 3000, 4096);
        Assert.EndsWith("Local codes and licensed people first.", (string?)JsonNode.Parse(Decrypted(request.Body))!["body"]);
    }

    [Theory]
    [InlineData(404)]
    [InlineData(410)]
    public async Task A_subscription_that_has_ended_is_gone(int status)
    {
        receiver.AnswerWith(status);
        Assert.True(Assert.IsType<TellingOutcome.Never>(await Notifier.Tell(OpenNeutral(), Subscription, Cancel)).IsGone);
    }

    [Fact]
    public async Task A_push_service_that_is_busy_says_when_to_come_back()
    {
        receiver.AnswerWith(429, "Retry-After", "60");
        Assert.Equal(TimeSpan.FromSeconds(60), Assert.IsType<TellingOutcome.TryAgain>(await Notifier.Tell(OpenNeutral(), Subscription, Cancel)).After);
    }

    [Theory]
    [InlineData("not JSON")]
    [InlineData("""{"endpoint":"https://push.example.org/1"}""")]
    [InlineData("""{"endpoint":"http://push.example.org/1","keys":{"p256dh":"BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4","auth":"BTBZMqHH6r4Tts7J_aSIgg"}}""")]
    [InlineData("""{"endpoint":"https://push.example.org/1","keys":{"p256dh":"BAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA","auth":"BTBZMqHH6r4Tts7J_aSIgg"}}""")]
    [InlineData("""{"endpoint":"https://push.example.org/1","keys":{"p256dh":"short","auth":"BTBZMqHH6r4Tts7J_aSIgg"}}""")]
    public async Task What_is_no_usable_subscription_is_gone_without_asking_anybody(string subscription) =>
        Assert.True(Assert.IsType<TellingOutcome.Never>(await Notifier.Tell(OpenNeutral(), new(Channel.Push, subscription), Cancel)).IsGone);

    [Theory]
    [InlineData("")]
    [InlineData("c2hvcnQ")]
    [InlineData("not base64url!")]
    public void A_bad_key_is_refused_without_showing_it(string key) =>
        Assert.Equal("the VAPID key must be a P-256 private key of 32 bytes in base64url", Assert.Throws<FormatException>(() => VapidKey.Read(new Secret(key), "mailto:a@example.org")).Message);

    /// <summary>As a browser does it (RFC 8291, section 3.4), from its side of the key agreement.</summary>
    static byte[] Decrypted(byte[] body)
    {
        using var browser = Key256(UaPublic, UaPrivate);
        var senderPoint = body[21..86];
        using var sender = ECDiffieHellman.Create(new ECParameters { Curve = ECCurve.NamedCurves.nistP256, Q = new() { X = senderPoint[1..33], Y = senderPoint[33..] } });
        var ikm = HKDF.DeriveKey(HashAlgorithmName.SHA256, browser.DeriveRawSecretAgreement(sender.PublicKey), 32, Bytes(AuthSecret), [.. "WebPush: info\0"u8, .. Bytes(UaPublic), .. senderPoint]);
        var (cek, nonce) = (Derived("Content-Encoding: aes128gcm\0", 16), Derived("Content-Encoding: nonce\0", 12));
        var plain = new byte[body.Length - 86 - 16];
        using var aes = new AesGcm(cek, 16);
        aes.Decrypt(nonce, body.AsSpan(86, plain.Length), body.AsSpan(body.Length - 16), plain);
        Assert.Equal(0x02, plain[^1]);
        return plain[..^1];

        byte[] Derived(string info, int length) => HKDF.DeriveKey(HashAlgorithmName.SHA256, ikm, length, body[..16], Encoding.ASCII.GetBytes(info));
    }

    static ECDiffieHellman Key256(string publicKey, string privateKey)
    {
        var point = Bytes(publicKey);
        return ECDiffieHellman.Create(new ECParameters { Curve = ECCurve.NamedCurves.nistP256, Q = new() { X = point[1..33], Y = point[33..] }, D = Bytes(privateKey) });
    }

    static byte[] Bytes(string text) => Base64Url.DecodeFromChars(text);
}
