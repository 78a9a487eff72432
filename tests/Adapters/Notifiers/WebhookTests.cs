using System.Net;
using System.Net.Sockets;
using System.Net.Mime;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using CloudNative.CloudEvents.SystemTextJson;
using Farberth.Adapters.Notifiers.Webhook;
using Farberth.Monitoring.Ports;
using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests.Notifiers;

/// <summary>Against a real web server; the event is read by the CloudEvents project's own library, the signature is built from RFC 9421 anew.</summary>
public sealed class WebhookTests : NotifierTests, IAsyncLifetime
{
    static readonly WebhookNotifier Notifier = new(Key, TimeProvider.System, Within);

    HttpReceiver receiver = null!;

    public async ValueTask InitializeAsync() => receiver = await HttpReceiver.Start();

    public ValueTask DisposeAsync() => receiver.DisposeAsync();

    ValueTask<TellingOutcome> Tell(WebhookNotifier? notifier = null) =>
        (notifier ?? Notifier).Tell(OpenNeutral(), new(Channel.Webhook, receiver.Url + "/hooks/alarm"), Cancel);

    [Fact]
    public async Task The_event_is_one_that_others_can_read()
    {
        Assert.IsType<TellingOutcome.Delivered>(await Tell());
        var request = await receiver.Next();

        var read = new JsonEventFormatter().DecodeStructuredModeMessage(request.Body, new ContentType(request.Headers["Content-Type"]), null);
        Assert.True(read.IsValid);
        Assert.Equal(("farberth.v1.alarm", "C.C7.open-neutral", "farberth/v1/eastharbour"), (read.Type, read.Subject, read.Source!.ToString()));
        Assert.Equal(OpenNeutral().Events[0].Key, read.Id);
        Assert.Equal(Stores.Given.Noon, read.Time);
        var data = Assert.IsType<JsonElement>(read.Data);
        Assert.Equal(("unacknowledged", 31.4), (data.GetProperty("state").GetString(), data.GetProperty("evidence").GetProperty("shift-volts").GetDouble()));
        Assert.Contains("Nobody swims", data.GetProperty("caution").GetString());
    }

    [Fact]
    public async Task A_receiver_with_the_key_can_verify_body_and_time()
    {
        await Tell();
        var request = await receiver.Next();

        Assert.True(Verifies(request, Key.Reveal()));
        Assert.False(Verifies(request, "another key"));
        var altered = request.Body.ToArray();
        altered[20] ^= 1;
        Assert.False(Verifies(request with { Body = altered }, Key.Reveal()));
        Assert.False(Verifies(request with { Headers = Changed(request.Headers, "Signature-Input", text => Regex.Replace(text, @"created=\d", "created=3")) }, Key.Reveal()));
    }

    /// <summary>RFC 9421, appendix B.2.5: signing a request using hmac-sha256, with the key of B.1.5 (from memory; the signature comes out as printed).</summary>
    [Fact]
    public void The_signature_is_that_of_the_standards_example()
    {
        var key = Convert.FromBase64String("uzvJfB4u3N0Jy4T7NZ75MDVcr8zSTInedJtkgcu46YW4XByzNJjxBdtjUkdJPBtbmHhIDi6pcl8jsasjlTMtDQ==");
        (string, string)[] covered = [("date", "Tue, 20 Apr 2021 02:07:55 GMT"), ("@authority", "example.com"), ("content-type", "application/json")];
        var parameters = MessageSignature.Parameters(
            covered.Select(one => one.Item1), DateTimeOffset.FromUnixTimeSeconds(1618884473), "test-shared-secret", nameAlgorithm: false);

        Assert.Equal("""("date" "@authority" "content-type");created=1618884473;keyid="test-shared-secret" """.TrimEnd(), parameters);
        Assert.Equal(":pxcQw6G3AjtMBQjwo8XzkZf/bws5LelbaMk5rGIGtE8=:", MessageSignature.Sign(covered, parameters, key));
    }

    [Theory]
    [InlineData(500, null, null, typeof(TellingOutcome.TryAgain))]
    [InlineData(503, "Retry-After", "120", typeof(TellingOutcome.TryAgain))]
    [InlineData(401, null, null, typeof(TellingOutcome.TryAgain))]
    [InlineData(404, null, null, typeof(TellingOutcome.TryAgain))]
    [InlineData(400, null, null, typeof(TellingOutcome.Never))]
    [InlineData(410, null, null, typeof(TellingOutcome.Never))]
    [InlineData(302, "Location", "http://127.0.0.1:1/elsewhere", typeof(TellingOutcome.Never))]
    [InlineData(202, null, null, typeof(TellingOutcome.Delivered))]
    public async Task Each_answer_says_whether_to_try_again(int status, string? header, string? value, Type expected)
    {
        receiver.AnswerWith(status, header, value);

        Assert.IsType(expected, await Tell());
        await receiver.Next();
    }

    [Fact]
    public async Task Too_many_requests_says_when_to_come_back()
    {
        receiver.AnswerWith(429, "Retry-After", "37");
        Assert.Equal(new TellingOutcome.TryAgain("the answer is 429", TimeSpan.FromSeconds(37)), await Tell());

        receiver.AnswerWith(429, "Retry-After", "Fri, 01 Jan 2100 00:00:00 GMT");
        Assert.True(Assert.IsType<TellingOutcome.TryAgain>(await Tell()).After > TimeSpan.FromDays(365));
    }

    [Fact]
    public async Task Gone_is_gone_for_good()
    {
        receiver.AnswerWith(410);
        Assert.True(Assert.IsType<TellingOutcome.Never>(await Tell()).IsGone);
    }

    [Fact]
    public async Task A_server_that_never_answers_is_tried_again()
    {
        receiver.Answer = context => new TaskCompletionSource().Task.WaitAsync(context.RequestAborted);
        using var hasty = new WebhookNotifier(Key, TimeProvider.System, Briefly);

        Assert.Contains("no answer", Assert.IsType<TellingOutcome.TryAgain>(await Tell(hasty)).Why);
    }

    [Fact]
    public async Task A_server_that_is_not_there_is_tried_again_and_nothing_secret_is_said()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        var address = new Address(Channel.Webhook, $"http://127.0.0.1:{((IPEndPoint)listener.LocalEndpoint).Port}/secret-path?key=hidden");
        listener.Stop();

        var outcome = Assert.IsType<TellingOutcome.TryAgain>(await Notifier.Tell(OpenNeutral(), address, Cancel));
        foreach (var shown in new[] { outcome.ToString(), address.ToString(), Key.ToString(), new Contact("Ana", default, [address]).ToString() })
            Assert.DoesNotMatch("hidden|secret-path|nobody may see", shown);
    }

    static bool Verifies(HttpReceiver.Received request, string key)
    {
        var input = request.Headers["Signature-Input"]["farberth=".Length..];
        var values = new SortedDictionary<string, string>
        {
            ["@method"] = request.Method, ["@authority"] = request.Host, ["@path"] = request.Path,
            ["content-type"] = request.Headers["Content-Type"], ["content-digest"] = request.Headers["Content-Digest"],
        };
        var lines = Regex.Matches(input[..input.IndexOf(')')], "\"([^\"]+)\"").Select(match => $"\"{match.Groups[1].Value}\": {values[match.Groups[1].Value]}");
        var expected = HMACSHA256.HashData(Encoding.UTF8.GetBytes(key), Encoding.UTF8.GetBytes($"{string.Join('\n', lines)}\n\"@signature-params\": {input}"));
        return request.Headers["Signature"] == $"farberth=:{Convert.ToBase64String(expected)}:"
            && values["content-digest"] == $"sha-256=:{Convert.ToBase64String(SHA256.HashData(request.Body))}:";
    }

    static Dictionary<string, string> Changed(IReadOnlyDictionary<string, string> headers, string name, Func<string, string> change) =>
        headers.ToDictionary(pair => pair.Key, pair => pair.Key == name ? change(pair.Value) : pair.Value, StringComparer.OrdinalIgnoreCase);
}
