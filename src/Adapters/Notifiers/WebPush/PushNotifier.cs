using System.Buffers.Text;
using System.Globalization;
using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telling;

namespace Farberth.Adapters.Notifiers.WebPush;

/// <summary>Sends each notice through the browser's push service (RFC 8030), so that only the browser can read it.</summary>
/// <param name="within">How long an answer may take.</param>
public sealed class PushNotifier(VapidKey vapid, TimeProvider time, TimeSpan within) : INotifier, IDisposable
{
    /// <summary>A phone that is off for longer is told nothing of what was then.</summary>
    static readonly TimeSpan TimeToLive = TimeSpan.FromHours(24);

    /// <summary>Names that are not of the public network (RFC 6761, RFC 6762, RFC 8375; ".internal" reserved by ICANN, from memory).</summary>
    static readonly IReadOnlyList<string> Private = [".localhost", ".local", ".internal", ".test", ".invalid", ".home.arpa"];

    readonly HttpClient http = HttpSending.Client();

    public Channel Channel => Channel.Push;

    public bool IsForReading => true;

    /// <summary>
    /// Whether a subscription that a stranger has entered may be sent to: over HTTPS, on its usual port, to a name of the public network.
    /// This machine and addresses by number are for the file of settings alone, so that nobody makes the service knock at doors inside.
    /// </summary>
    public static bool MayBeTold(string subscription) => PushSubscription.Read(subscription)?.Endpoint is
        { Scheme: "https", IsDefaultPort: true, HostNameType: UriHostNameType.Dns, UserInfo: "" } endpoint
        && endpoint.IdnHost is var host && host.Contains('.') && !host.EndsWith('.')
        && !Private.Any(end => host.EndsWith(end, StringComparison.OrdinalIgnoreCase));

    public async ValueTask<TellingOutcome> Tell(Notice notice, Address address, CancellationToken cancel)
    {
        if (PushSubscription.Read(address.Endpoint) is not { } subscription)
            return new TellingOutcome.Never("the address is no push subscription", IsGone: true);
        try
        {
            using var request = Request(notice, subscription);
            return await new HttpSending(http, time, within)
                .Send(request, () => new TellingOutcome.Never("the answer is 404", IsGone: true), cancel).ConfigureAwait(false);
        }
        catch (CryptographicException)
        {
            return new TellingOutcome.Never("the subscription's key is no point of the curve", IsGone: true);
        }
    }

    public void Dispose() => http.Dispose();

    HttpRequestMessage Request(Notice notice, PushSubscription subscription)
    {
        using var sender = ECDiffieHellman.Create(ECCurve.NamedCurves.nistP256);
        var body = PushEncryption.Encrypt(
            PushPayload.Of(notice), subscription.PublicKey, subscription.AuthSecret, sender, RandomNumberGenerator.GetBytes(PushEncryption.SaltBytes));
        var request = new HttpRequestMessage(HttpMethod.Post, subscription.Endpoint) { Content = new ByteArrayContent(body) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        request.Content.Headers.ContentEncoding.Add("aes128gcm");
        request.Headers.TryAddWithoutValidation("Authorization", vapid.Authorization(subscription.Endpoint, time.GetUtcNow()));
        request.Headers.Add("TTL", TimeToLive.TotalSeconds.ToString("0", CultureInfo.InvariantCulture));
        request.Headers.Add("Urgency", notice.Priority == Priority.High ? "high" : "normal");
        request.Headers.Add("Topic", Topic(notice));
        return request;
    }

    /// <summary>Of messages with one topic that a phone has not fetched yet, the latest is left (RFC 8030, section 5.4: 32 characters at most).</summary>
    static string Topic(Notice notice) => Base64Url.EncodeToString(SHA256.HashData(Encoding.UTF8.GetBytes(
        notice.Events.Count == 1 ? notice.Events[0].Name : notice.Id)).AsSpan(0, 24));
}
