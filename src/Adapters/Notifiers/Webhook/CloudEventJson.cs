using System.Buffers;
using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telling;
using Farberth.Monitoring.Wire;

namespace Farberth.Adapters.Notifiers.Webhook;

/// <summary>A notice as a CloudEvent 1.0.2 in the JSON event format, structured mode; its data is what the broker has of the same event.</summary>
static class CloudEventJson
{
    public const string MediaType = "application/cloudevents+json";

    static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static byte[] Of(Notice notice)
    {
        var happened = notice.Events[0];
        var (type, data) = happened switch
        {
            AlarmStepped { Transition: var transition } => ("farberth.v1.alarm", AlarmJson.Of(transition)),
            AdviceChanged { Change: var change } => ("farberth.v1.advice", AdviceJson.Of(change)),
            _ => throw new ArgumentException($"an event of a kind that nobody knows: {happened}", nameof(notice)),
        };
        var buffer = new ArrayBufferWriter<byte>();
        using (var writer = new Utf8JsonWriter(buffer, Options))
        {
            writer.WriteStartObject();
            writer.WriteString("specversion", "1.0");
            writer.WriteString("id", happened.Key);
            writer.WriteString("source", $"farberth/v1/{notice.Site}");
            writer.WriteString("type", type);
            writer.WriteString("subject", happened.Name);
            writer.WriteString("time", happened.At.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture));
            writer.WriteString("datacontenttype", "application/json");
            writer.WritePropertyName("data");
            writer.WriteRawValue(data);
            writer.WriteEndObject();
        }
        return buffer.WrittenSpan.ToArray();
    }
}
