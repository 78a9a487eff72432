using System.Buffers.Text;
using System.Text.Json.Nodes;

namespace Farberth.Adapters.Notifiers.WebPush;

/// <summary>Where a browser is reached, as its own JSON says (W3C Push API, PushSubscription.toJSON).</summary>
sealed record PushSubscription(Uri Endpoint, byte[] PublicKey, byte[] AuthSecret)
{
    /// <returns>Null: it is no subscription, or one that may not be used.</returns>
    public static PushSubscription? Read(string json)
    {
        try
        {
            var members = JsonNode.Parse(json)!;
            var keys = members["keys"]!;
            var endpoint = new Uri((string)members["endpoint"]!);
            var (key, auth) = (Base64Url.DecodeFromChars((string)keys["p256dh"]!), Base64Url.DecodeFromChars((string)keys["auth"]!));
            // Plain HTTP only to this machine: a push service of one's own, or a test's.
            var isSafe = endpoint.Scheme == Uri.UriSchemeHttps || (endpoint.Scheme == Uri.UriSchemeHttp && endpoint.IsLoopback);
            return isSafe && key.Length == PushEncryption.PointBytes && auth.Length == PushEncryption.AuthBytes ? new(endpoint, key, auth) : null;
        }
        catch (Exception e) when (e is FormatException or InvalidOperationException or NullReferenceException or ArgumentException or System.Text.Json.JsonException)
        {
            return null;
        }
    }
}
