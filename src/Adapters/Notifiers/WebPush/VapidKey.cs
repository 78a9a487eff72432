using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace Farberth.Adapters.Notifiers.WebPush;

/// <summary>How this service says to push services who it is (VAPID, RFC 8292): a token signed with ES256, good for one service and half a day.</summary>
public sealed class VapidKey : IDisposable
{
    /// <summary>RFC 8292, section 2: 24 hours at most.</summary>
    static readonly TimeSpan GoodFor = TimeSpan.FromHours(12);

    readonly ECDsa key;
    readonly string subject;

    VapidKey(ECDsa key, string subject)
    {
        (this.key, this.subject) = (key, subject);
        PublicKey = Base64Url.EncodeToString(PushEncryption.Point(key.ExportParameters(false).Q));
    }

    /// <summary>What a browser needs to subscribe: base64url of the uncompressed point.</summary>
    public string PublicKey { get; }

    /// <param name="privateKey">base64url of the 32 bytes of a P-256 private key, as tools for Web Push make it.</param>
    /// <param name="subject">"mailto:…" or "https://…": whom the push service may ask.</param>
    /// <exception cref="FormatException">It is no such key.</exception>
    public static VapidKey Read(Secret privateKey, string subject)
    {
        try
        {
            var scalar = Base64Url.DecodeFromChars(privateKey.Reveal().Trim());
            if (scalar.Length != 32)
                throw new FormatException("a VAPID key has 32 bytes");
            return new(ECDsa.Create(new ECParameters { Curve = ECCurve.NamedCurves.nistP256, D = scalar }), subject);
        }
        catch (Exception e) when (e is CryptographicException or FormatException)
        {
            throw new FormatException("the VAPID key must be a P-256 private key of 32 bytes in base64url", e);
        }
    }

    /// <summary>The value of the header Authorization.</summary>
    public string Authorization(Uri endpoint, DateTimeOffset now)
    {
        var claims = new SortedDictionary<string, object>(StringComparer.Ordinal)
        {
            ["aud"] = endpoint.GetLeftPart(UriPartial.Authority), ["exp"] = (now + GoodFor).ToUnixTimeSeconds(), ["sub"] = subject,
        };
        var token = $"{Part("""{"typ":"JWT","alg":"ES256"}"""u8)}.{Part(JsonSerializer.SerializeToUtf8Bytes(claims))}";
        var signature = key.SignData(Encoding.ASCII.GetBytes(token), HashAlgorithmName.SHA256);
        return $"vapid t={token}.{Part(signature)}, k={PublicKey}";
    }

    public void Dispose() => key.Dispose();

    static string Part(ReadOnlySpan<byte> bytes) => Base64Url.EncodeToString(bytes);
}
