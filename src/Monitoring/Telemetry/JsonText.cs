using System.Text.Json;
using System.Text.Unicode;

namespace Farberth.Monitoring.Telemetry;

/// <summary>Whole JSON texts in UTF-8: is it one, and the same text without the white space between its tokens.</summary>
static class JsonText
{
    public const int DeepestMessage = 64;

    /// <summary>Null when the bytes are one JSON value and nothing else; else what is wrong, in words.</summary>
    /// <param name="depth">Objects and arrays nested deeper than this are not taken.</param>
    public static string? Fault(ReadOnlySpan<byte> text, int depth = DeepestMessage)
    {
        if (text.IsEmpty)
            return "the payload is empty";
        if (!Utf8.IsValid(text))
            return "the payload is not UTF-8";
        var reader = new Utf8JsonReader(text, new JsonReaderOptions { MaxDepth = depth });
        try
        {
            while (reader.Read())
                ReadEscapes(ref reader);
            return null;
        }
        catch (JsonException)
        {
            return reader.CurrentDepth >= depth
                ? $"nested deeper than {depth} at byte {reader.BytesConsumed}"
                : $"not JSON at byte {reader.BytesConsumed}";
        }
        catch (InvalidOperationException)
        {
            return $"a string with half of a surrogate pair at byte {reader.TokenStartIndex}";
        }
    }

    /// <summary>
    /// Whether a reader that walks the text to its end checks all that <see cref="Fault"/> does, so that most texts are walked once: it is
    /// UTF-8, and no escape can hide half a surrogate pair.
    /// </summary>
    public static bool IsCheckedByReading(ReadOnlySpan<byte> text) => Utf8.IsValid(text) && !text.Contains((byte)'\\');

    // Half a surrogate pair passes the reader but no string can hold it; the framework says so only when asked for the string.
    static void ReadEscapes(ref Utf8JsonReader reader)
    {
        if (reader.ValueIsEscaped && reader.TokenType is JsonTokenType.String or JsonTokenType.PropertyName)
            _ = reader.GetString();
    }

    /// <summary>
    /// The same text without white space between tokens. In JSON a line break can stand nowhere else (RFC 8259,
    /// section 7: control characters in strings are escaped), so the result is one line; every token keeps its bytes.
    /// </summary>
    /// <param name="text">Valid JSON.</param>
    public static byte[] Compact(ReadOnlySpan<byte> text)
    {
        var compact = new byte[text.Length];
        var length = 0;
        var inString = false;
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (!inString && c is (byte)' ' or (byte)'\t' or (byte)'\r' or (byte)'\n')
                continue;
            compact[length++] = c;
            if (c == '"')
                inString = !inString;
            else if (c == '\\' && inString)
                compact[length++] = text[++i];
        }
        return length == compact.Length ? compact : compact[..length];
    }
}
