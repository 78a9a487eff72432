using System.Buffers;
using System.Globalization;
using System.Text.Json;

namespace Farberth.HotAfternoon;

/// <summary>Payloads as bytes of JSON.</summary>
static class Json
{
    public static ReadOnlyMemory<byte> Object(Action<Utf8JsonWriter> members)
    {
        var buffer = new ArrayBufferWriter<byte>(256);
        using (var writer = new Utf8JsonWriter(buffer))
        {
            writer.WriteStartObject();
            members(writer);
            writer.WriteEndObject();
        }
        return buffer.WrittenMemory;
    }

    public static void WriteTime(this Utf8JsonWriter writer, DateTimeOffset time) =>
        writer.WriteString("time", time.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture));

    /// <summary>Rounded to a number of decimals; never a negative zero.</summary>
    public static void WriteRounded(this Utf8JsonWriter writer, string name, double value, int decimals) =>
        writer.WriteNumber(name, Math.Round(value, decimals) + 0.0);
}
