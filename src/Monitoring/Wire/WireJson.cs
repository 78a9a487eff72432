using System.Buffers;
using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using Farberth.Grid.Network;

namespace Farberth.Monitoring.Wire;

/// <summary>How numbers and times are written on every output.</summary>
static class WireJson
{
    static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>One JSON object in UTF-8.</summary>
    public static byte[] Object(Action<Utf8JsonWriter> members)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var writer = new Utf8JsonWriter(buffer, Options))
        {
            writer.WriteStartObject();
            members(writer);
            writer.WriteEndObject();
        }
        return buffer.WrittenSpan.ToArray();
    }

    public static void Time(this Utf8JsonWriter writer, string name, DateTimeOffset time) =>
        writer.WriteString(name, time.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture));

    /// <summary>Rounded to a number of decimals; nothing is written for a number that is not there.</summary>
    public static void Number(this Utf8JsonWriter writer, string name, double value, int decimals)
    {
        if (double.IsFinite(value))
            writer.WriteNumber(name, Math.Round(value, decimals));
    }

    /// <summary>An array of rounded numbers; null for one that is not there.</summary>
    /// <param name="name">Null inside another array.</param>
    public static void Numbers(this Utf8JsonWriter writer, string? name, IEnumerable<double> values, int decimals)
    {
        if (name != null)
            writer.WritePropertyName(name);
        writer.WriteStartArray();
        foreach (var value in values)
            if (double.IsFinite(value))
                writer.WriteNumberValue(Math.Round(value, decimals));
            else
                writer.WriteNullValue();
        writer.WriteEndArray();
    }

    /// <summary>A nested object.</summary>
    public static void Nested(this Utf8JsonWriter writer, string name, Action members)
    {
        writer.WriteStartObject(name);
        members();
        writer.WriteEndObject();
    }

    /// <summary>{"L1": …, "L2": …} of the conductors that have a number.</summary>
    public static void Legs(this Utf8JsonWriter writer, string name, PerLeg values, int decimals) =>
        writer.Nested(name, () =>
        {
            foreach (var leg in values.Legs)
                writer.Number(leg.ToString(), values[leg], decimals);
        });
}
