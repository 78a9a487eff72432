using System.Security.Cryptography;
using System.Text;

namespace Farberth.Adapters.Notifiers.Webhook;

/// <summary>
/// HTTP Message Signatures (RFC 9421) with hmac-sha256, over a digest of the body (RFC 9530) and the moment of signing. A receiver
/// that knows the key can tell that a notice is from here, whole, and fresh.
/// </summary>
static class MessageSignature
{
    /// <summary>"sha-256=:…:", of the header Content-Digest (RFC 9530).</summary>
    public static string Digest(ReadOnlySpan<byte> body) => $"sha-256=:{Convert.ToBase64String(SHA256.HashData(body))}:";

    /// <summary>The parameters as they stand in Signature-Input, after the label.</summary>
    public static string Parameters(IEnumerable<string> components, DateTimeOffset created, string keyId, bool nameAlgorithm = true) =>
        $"({string.Join(' ', components.Select(component => $"\"{component}\""))});created={created.ToUnixTimeSeconds()};keyid=\"{keyId}\""
        + (nameAlgorithm ? ";alg=\"hmac-sha256\"" : "");

    /// <summary>The signature base of section 2.5, keyed and hashed: ":…:" as it stands in Signature, after the label.</summary>
    public static string Sign(IEnumerable<(string Component, string Value)> components, string parameters, ReadOnlySpan<byte> key)
    {
        var lines = components.Select(one => $"\"{one.Component}\": {one.Value}").Append($"\"@signature-params\": {parameters}");
        return $":{Convert.ToBase64String(HMACSHA256.HashData(key, Encoding.ASCII.GetBytes(string.Join('\n', lines))))}:";
    }
}
