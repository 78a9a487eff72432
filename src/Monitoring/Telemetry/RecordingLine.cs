using System.Text.Encodings.Web;
using System.Text.Json;

namespace Farberth.Monitoring.Telemetry;

/// <summary>
/// One message as one line of a recording. A payload that is JSON stands in the line as it came, less the white space
/// between its tokens; any other payload as base64.
/// </summary>
public static class RecordingLine
{
    // The payload lies one object deeper in the line than in its message.
    const int Deepest = JsonText.DeepestMessage + 1;

    static readonly JsonWriterOptions Writing = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping, MaxDepth = Deepest };

    /// <summary>The line's bytes in UTF-8, without a line break.</summary>
    public static byte[] Encode(RecordedMessage recorded)
    {
        using var stream = new MemoryStream();
        using var writer = new Utf8JsonWriter(stream, Writing);
        writer.WriteStartObject();
        writer.WriteString("at"u8, recorded.At.UtcDateTime);
        writer.WriteString("topic"u8, recorded.Message.Topic);
        var payload = recorded.Message.Payload.Span;
        if (JsonText.Fault(payload) is null)
        {
            writer.WritePropertyName("payload"u8);
            writer.WriteRawValue(JsonText.Compact(payload), skipInputValidation: true);
        }
        else
        {
            writer.WriteBase64String("payload-base64"u8, payload);
        }
        writer.WriteEndObject();
        writer.Flush();
        return stream.ToArray();
    }

    /// <summary>The message of a line, or what is wrong with the line. Unknown members are stepped over.</summary>
    public static bool TryDecode(ReadOnlySpan<byte> line, out RecordedMessage message, out string problem)
    {
        message = null!;
        problem = JsonText.IsCheckedByReading(line) ? "" : JsonText.Fault(line, Deepest) ?? "";
        if (problem.Length > 0)
            return false;
        try
        {
            message = Walk(line, ref problem)!;
        }
        catch (JsonException e)
        {
            problem = JsonText.Fault(line, Deepest) ?? e.Message;
        }
        return problem.Length == 0;
    }

    static RecordedMessage? Walk(ReadOnlySpan<byte> line, ref string problem)
    {
        var reader = new Utf8JsonReader(line, new JsonReaderOptions { MaxDepth = Deepest });
        reader.Read();
        RecordedMessage? message = null;
        if (reader.TokenType != JsonTokenType.StartObject)
            problem = "the line is not an object";
        else
            message = Members(ref reader, line, ref problem);
        while (reader.Read())
        {
            // To the end: what follows must be checked too.
        }
        return message;
    }

    static RecordedMessage? Members(ref Utf8JsonReader reader, ReadOnlySpan<byte> line, ref string problem)
    {
        DateTimeOffset? at = null;
        string? topic = null;
        byte[]? payload = null;
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            if (reader.ValueTextEquals("at"u8))
                at = reader.Read() && Instant.TryRead(ref reader, out var time) ? time : null;
            else if (reader.ValueTextEquals("topic"u8))
                topic = reader.Read() && reader.TokenType == JsonTokenType.String ? reader.GetString() : null;
            else if (reader.ValueTextEquals("payload"u8))
                payload = RawValue(ref reader, line);
            else if (reader.ValueTextEquals("payload-base64"u8))
                payload = reader.Read() && reader.TokenType == JsonTokenType.String && reader.TryGetBytesFromBase64(out var bytes) ? bytes : null;
            else
                reader.Read();
            reader.Skip();
        }
        problem = at is null ? "\"at\" must be a time with an offset or Z"
            : string.IsNullOrEmpty(topic) ? "\"topic\" must be a topic"
            : payload is null ? "there must be a \"payload\", or a \"payload-base64\" in base64"
            : "";
        return problem.Length == 0 ? new RecordedMessage(at!.Value, new WireMessage(topic!, payload)) : null;
    }

    static byte[] RawValue(ref Utf8JsonReader reader, ReadOnlySpan<byte> line)
    {
        reader.Read();
        var start = (int)reader.TokenStartIndex;
        reader.Skip();
        return line[start..(int)reader.BytesConsumed].ToArray();
    }
}
