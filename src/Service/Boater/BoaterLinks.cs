using System.Buffers.Binary;
using System.Buffers.Text;
using System.Text;
using Farberth.Service.Access;

namespace Farberth.Service.Boater;

/// <summary>
/// What stands in a link after /b/, in base64url:
/// <code>
/// token = version(1) stay(4) end(4) slip(UTF-8) mac(16)     mac = HMAC("link" version stay end slip)
/// code  = address(UTF-8) mac(16)                            mac = HMAC("mail" stay(4) address)
/// stop  = contact's name(UTF-8) mac(16)                     mac = HMAC("stop" name)
/// </code>
/// stay is the stay's number and end the minutes from 1970 to its planned end, both big-endian. Who has a token may read one slip's page,
/// and no more; who has a code reads the mail of that address, and who has a stop has been told something.
/// </summary>
sealed class BoaterLinks(LinkKey key)
{
    const byte Version = 1;
    const int Head = 9, Mac = 16, Longest = 400;

    public string Token(BoatStay stay)
    {
        byte[] said = new byte[Head];
        said[0] = Version;
        BinaryPrimitives.WriteUInt32BigEndian(said.AsSpan(1), checked((uint)stay.Id));
        BinaryPrimitives.WriteUInt32BigEndian(said.AsSpan(5), Minutes(stay.To));
        said = [.. said, .. Encoding.UTF8.GetBytes(stay.Slip)];
        return Base64Url.EncodeToString([.. said, .. key.Sign([.. "link"u8, .. said])]);
    }

    /// <returns>Null: nobody here has signed it.</returns>
    public LinkClaim? Read(string token)
    {
        if (Decoded(token) is not { Length: > Head + Mac } bytes || bytes[0] != Version)
            return null;
        var said = bytes.AsSpan(..^Mac);
        return !key.Fits([.. "link"u8, .. said], bytes.AsSpan(^Mac..)) ? null : new(
            BinaryPrimitives.ReadUInt32BigEndian(said[1..]), Encoding.UTF8.GetString(said[Head..]),
            DateTimeOffset.FromUnixTimeSeconds(60L * BinaryPrimitives.ReadUInt32BigEndian(said[5..])));
    }

    /// <summary>What is mailed to an address, so that only who reads it there can say yes.</summary>
    public string MailCode(BoatStay stay, string address)
    {
        var said = Encoding.UTF8.GetBytes(address);
        return Base64Url.EncodeToString([.. said, .. key.Sign(Mailed(stay, said))]);
    }

    /// <returns>The address; null: the code is not of this stay.</returns>
    public string? ReadMailCode(BoatStay stay, string code) =>
        Decoded(code) is { Length: > Mac } bytes && key.Fits(Mailed(stay, bytes[..^Mac]), bytes.AsSpan(^Mac..)) ? Encoding.UTF8.GetString(bytes[..^Mac]) : null;

    /// <summary>Stands in every notice to a contact, and ends them. It says no address.</summary>
    public string StopCode(string contact)
    {
        var said = Encoding.UTF8.GetBytes(contact);
        return Base64Url.EncodeToString([.. said, .. key.Sign([.. "stop"u8, .. said])]);
    }

    /// <returns>The contact's name; null: nobody here has signed it.</returns>
    public string? ReadStopCode(string code) =>
        Decoded(code) is { Length: > Mac } bytes && key.Fits([.. "stop"u8, .. bytes[..^Mac]], bytes.AsSpan(^Mac..)) ? Encoding.UTF8.GetString(bytes[..^Mac]) : null;

    static byte[] Mailed(BoatStay stay, byte[] address)
    {
        var number = new byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(number, checked((uint)stay.Id));
        return [.. "mail"u8, .. number, .. address];
    }

    /// <summary>Rounded up, so that a link is good up to the last moment.</summary>
    static uint Minutes(DateTimeOffset at) => checked((uint)((at.ToUnixTimeSeconds() + 59) / 60));

    static byte[]? Decoded(string text)
    {
        if (text.Length > Longest || !Base64Url.IsValid(text))
            return null;
        return Base64Url.DecodeFromChars(text);
    }
}

/// <summary>What a signed link says.</summary>
/// <param name="End">Planned when it was given out.</param>
sealed record LinkClaim(long Stay, string Slip, DateTimeOffset End);
