using System.Text.Json;

namespace Farberth.Monitoring.Telemetry;

/// <summary>Times on the wire: RFC 3339, with an offset or Z. A time without either is no point in time.</summary>
static class Instant
{
    const int OffsetLength = 6;

    /// <summary>Reads the string the reader stands on; the result is UTC.</summary>
    public static bool TryRead(ref Utf8JsonReader reader, out DateTimeOffset time)
    {
        time = default;
        if (reader.TokenType != JsonTokenType.String || !reader.TryGetDateTimeOffset(out var read))
            return false;
        time = read.ToUniversalTime();
        return reader.ValueIsEscaped ? EndsWithOffset(reader.GetString()!) : EndsWithOffset(reader.ValueSpan);
    }

    static bool EndsWithOffset(string text) => EndsWithOffset(System.Text.Encoding.UTF8.GetBytes(text));

    static bool EndsWithOffset(ReadOnlySpan<byte> text) =>
        text[^1] == 'Z' || (text.Length > "2027-07-17T".Length + OffsetLength && text[^OffsetLength] is (byte)'+' or (byte)'-');
}
