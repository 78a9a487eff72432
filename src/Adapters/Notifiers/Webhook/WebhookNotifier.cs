using System.Net.Http.Headers;
using System.Text;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telling;

namespace Farberth.Adapters.Notifiers.Webhook;

/// <summary>Posts each event as a CloudEvent, signed where there is a key.</summary>
/// <param name="key">Shared with the receivers; null: unsigned.</param>
/// <param name="within">How long an answer may take.</param>
public sealed class WebhookNotifier(Secret? key, TimeProvider time, TimeSpan within) : INotifier, IDisposable
{
    const string KeyId = "farberth", Label = "farberth";

    readonly HttpClient http = HttpSending.Client();

    public Channel Channel => Channel.Webhook;

    public bool IsForReading => false;

    public async ValueTask<TellingOutcome> Tell(Notice notice, Address address, CancellationToken cancel)
    {
        if (!Uri.TryCreate(address.Endpoint, UriKind.Absolute, out var url) || url.Scheme is not ("https" or "http"))
            return new TellingOutcome.Never("the address is no web address", IsGone: true);
        using var request = Request(url, CloudEventJson.Of(notice));
        return await new HttpSending(http, time, within)
            .Send(request, () => new TellingOutcome.TryAgain("the answer is 404"), cancel).ConfigureAwait(false);
    }

    public void Dispose() => http.Dispose();

    HttpRequestMessage Request(Uri url, byte[] body)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, url) { Content = new ByteArrayContent(body) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue(CloudEventJson.MediaType) { CharSet = "utf-8" };
        var digest = MessageSignature.Digest(body);
        request.Content.Headers.Add("Content-Digest", digest);
        if (key is null)
            return request;
        (string Component, string Value)[] covered =
        [
            ("@method", "POST"), ("@authority", url.Authority.ToLowerInvariant()), ("@path", url.AbsolutePath),
            ("content-type", request.Content.Headers.ContentType.ToString()), ("content-digest", digest),
        ];
        var parameters = MessageSignature.Parameters(covered.Select(one => one.Component), time.GetUtcNow(), KeyId);
        request.Headers.Add("Signature-Input", $"{Label}={parameters}");
        request.Headers.Add("Signature", $"{Label}={MessageSignature.Sign(covered, parameters, Encoding.UTF8.GetBytes(key.Reveal()))}");
        return request;
    }
}
