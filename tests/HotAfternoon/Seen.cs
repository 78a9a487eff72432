using System.Text.Json;
using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon.Tests;

/// <summary>Short ways to look at messages.</summary>
static class Seen
{
    /// <summary>The messages whose topic ends so: "Q1/reading", "/boat".</summary>
    public static List<RecordedMessage> Ending(this IEnumerable<RecordedMessage> messages, string topicEnd) =>
        [.. messages.Where(message => message.Message.Topic.EndsWith(topicEnd, StringComparison.Ordinal))];

    public static JsonElement Json(this RecordedMessage message)
    {
        using var document = JsonDocument.Parse(message.Message.Payload);
        return document.RootElement.Clone();
    }

    public static DateTimeOffset Time(this RecordedMessage message) => message.Json().GetProperty("time").GetDateTimeOffset();

    public static long Seq(this RecordedMessage message) => message.Json().GetProperty("seq").GetInt64();

    public static string Bytes(this RecordedMessage message) => Convert.ToHexString(message.Message.Payload.Span);
}
