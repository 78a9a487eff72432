using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Farberth.Monitoring.Words;

/// <summary>What is said to a person where it is not known yet in which language: English with gaps, and what stands in them.</summary>
/// <param name="English">The key of the other languages. Its gaps are those of .NET's composite formats, with the decimals of numbers: "{0:0.0} V".</param>
/// <param name="Parts">Texts, numbers, moments, and sentences.</param>
[JsonConverter(typeof(SentenceJson))]
public sealed record Sentence(string English, IReadOnlyList<object> Parts)
{
    const int Decimals = 4;

    public static Sentence Of(string english, params object[] parts) => new(english, [.. parts.Select(Part)]);

    /// <summary>In English, for programs.</summary>
    public override string ToString() => string.Format(
        CultureInfo.InvariantCulture, English, [.. Parts.Select(part => part is DateTimeOffset at ? at.ToString("O", CultureInfo.InvariantCulture) : part)]);

    /// <summary>More decimals than any sentence has are not carried about.</summary>
    static object Part(object given) => given switch
    {
        Enum word => word.ToString(),
        double number => Math.Round(number, Decimals),
        _ => given,
    };
}

/// <summary>A moment in a sentence of which a program's text has another form than ISO 8601.</summary>
public sealed record Moment(DateTimeOffset At, string English)
{
    public override string ToString() => English;
}

/// <summary>As an array: the English, then the parts. Moments come back as texts.</summary>
sealed class SentenceJson : JsonConverter<Sentence>
{
    public override Sentence Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => Sentence(JsonElement.ParseValue(ref reader));

    static Sentence Sentence(JsonElement read) => read.ValueKind == JsonValueKind.Array && read.GetArrayLength() > 0 && read[0].ValueKind == JsonValueKind.String
        ? new(read[0].GetString()!, [.. read.EnumerateArray().Skip(1).Select(Part)]) : throw new JsonException("no sentence");

    static object Part(JsonElement read) => read.ValueKind switch
    {
        JsonValueKind.Number => read.GetDouble(),
        JsonValueKind.Array => Sentence(read),
        _ => read.ToString(),
    };

    public override void Write(Utf8JsonWriter writer, Sentence value, JsonSerializerOptions options)
    {
        writer.WriteStartArray();
        writer.WriteStringValue(value.English);
        foreach (var part in value.Parts)
            if (part is double number && double.IsFinite(number))
                writer.WriteNumberValue(number);
            else if (part is int count)
                writer.WriteNumberValue(count);
            else if (part is Sentence within)
                Write(writer, within, options);
            else
                writer.WriteStringValue(Convert.ToString(part, CultureInfo.InvariantCulture));
        writer.WriteEndArray();
    }
}
