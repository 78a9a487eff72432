using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Farberth.Adapters.Notifiers.WebPush;

/// <summary>
/// Message Encryption for Web Push (RFC 8291) in the aes128gcm coding (RFC 8188), as one record:
/// <code>
/// ecdh_secret = ECDH(as_private, ua_public)
/// IKM   = HKDF(salt: auth_secret, ikm: ecdh_secret, info: "WebPush: info" 0x00 ua_public as_public, 32)
/// CEK   = HKDF(salt: salt, ikm: IKM, info: "Content-Encoding: aes128gcm" 0x00, 16)
/// NONCE = HKDF(salt: salt, ikm: IKM, info: "Content-Encoding: nonce" 0x00, 12)
/// body  = salt(16) rs(4) idlen(1) as_public(65) AES-128-GCM(CEK, NONCE, plaintext 0x02)
/// </code>
/// ua is the browser, as this service.
/// </summary>
static class PushEncryption
{
    public const int SaltBytes = 16, PointBytes = 65, AuthBytes = 16;

    /// <summary>Push services take bodies of 4096 bytes (RFC 8291, section 4): that less header, padding byte and tag.</summary>
    public const int LongestPlaintext = RecordBytes - HeaderBytes - 1 - TagBytes;

    const int RecordBytes = 4096, TagBytes = 16, HeaderBytes = SaltBytes + 4 + 1 + PointBytes;

    /// <param name="uaPublic">An uncompressed point of P-256.</param>
    /// <param name="sender">A key made for this message alone.</param>
    /// <exception cref="CryptographicException">The browser's key is no point of the curve.</exception>
    public static byte[] Encrypt(ReadOnlySpan<byte> plaintext, byte[] uaPublic, byte[] authSecret, ECDiffieHellman sender, ReadOnlySpan<byte> salt)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(plaintext.Length, LongestPlaintext);
        var asPublic = Point(sender.ExportParameters(false).Q);
        using var receiver = ECDiffieHellman.Create(new ECParameters { Curve = ECCurve.NamedCurves.nistP256, Q = Parsed(uaPublic) });
        var shared = sender.DeriveRawSecretAgreement(receiver.PublicKey);
        byte[] keyInfo = [.. "WebPush: info\0"u8, .. uaPublic, .. asPublic];
        var ikm = HKDF.DeriveKey(HashAlgorithmName.SHA256, shared, 32, authSecret, keyInfo);
        var cek = HKDF.DeriveKey(HashAlgorithmName.SHA256, ikm, 16, salt.ToArray(), Encoding.ASCII.GetBytes("Content-Encoding: aes128gcm\0"));
        var nonce = HKDF.DeriveKey(HashAlgorithmName.SHA256, ikm, 12, salt.ToArray(), Encoding.ASCII.GetBytes("Content-Encoding: nonce\0"));

        byte[] padded = [.. plaintext, 0x02]; // 0x02: the last record
        var body = new byte[HeaderBytes + padded.Length + TagBytes];
        salt.CopyTo(body);
        BinaryPrimitives.WriteUInt32BigEndian(body.AsSpan(SaltBytes), RecordBytes);
        body[SaltBytes + 4] = PointBytes;
        asPublic.CopyTo(body, SaltBytes + 5);
        using var aes = new AesGcm(cek, TagBytes);
        aes.Encrypt(nonce, padded, body.AsSpan(HeaderBytes, padded.Length), body.AsSpan(HeaderBytes + padded.Length));
        return body;
    }

    /// <summary>As 0x04, x and y (SEC 1, section 2.3.3).</summary>
    public static byte[] Point(ECPoint point) => [0x04, .. point.X!, .. point.Y!];

    /// <exception cref="CryptographicException">It is no uncompressed point.</exception>
    public static ECPoint Parsed(byte[] point) => point is [0x04, ..] && point.Length == PointBytes
        ? new ECPoint { X = point[1..33], Y = point[33..] } : throw new CryptographicException("no uncompressed point of P-256");
}
