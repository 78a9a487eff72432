using System.Numerics;
using System.Runtime.InteropServices;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Farberth.Monitoring.Remembering;

/// <summary>Arrays of numbers as their bytes in base64, little-endian; those with rows begin with the length of a row.</summary>
sealed class PackedArrays : JsonConverterFactory
{
    public override bool CanConvert(Type typeToConvert) => typeToConvert.IsArray && Of(typeToConvert) != null;

    public override JsonConverter? CreateConverter(Type typeToConvert, JsonSerializerOptions options) => Of(typeToConvert);

    static JsonConverter? Of(Type type) =>
        type == typeof(double[]) ? new Row<double>()
        : type == typeof(float[]) ? new Row<float>()
        : type == typeof(long[]) ? new Row<long>()
        : type == typeof(int[]) ? new Row<int>()
        : type == typeof(bool[]) ? new Row<bool>()
        : type == typeof(Complex[]) ? new Row<Complex>()
        : type == typeof(double[,]) ? new Rows<double>()
        : type == typeof(Complex[,]) ? new Rows<Complex>()
        : null;

    sealed class Row<T> : JsonConverter<T[]>
        where T : struct
    {
        public override T[] Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            Whole<T>(Packed(ref reader)).ToArray();

        public override void Write(Utf8JsonWriter writer, T[] value, JsonSerializerOptions options) =>
            writer.WriteBase64StringValue(MemoryMarshal.AsBytes(value.AsSpan()));
    }

    sealed class Rows<T> : JsonConverter<T[,]>
        where T : struct
    {
        public override T[,] Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            var packed = Packed(ref reader);
            if (packed.Length < sizeof(int))
                throw new JsonException("an array lacks the length of its rows");
            var columns = BitConverter.ToInt32(packed);
            var all = Whole<T>(packed.AsSpan(sizeof(int)));
            if (columns <= 0 || all.Length % columns != 0)
                throw new JsonException("an array is not made of whole rows");
            var rows = new T[all.Length / columns, columns];
            all.CopyTo(Flat(rows));
            return rows;
        }

        public override void Write(Utf8JsonWriter writer, T[,] value, JsonSerializerOptions options) => writer.WriteBase64StringValue(
            (byte[])[.. BitConverter.GetBytes(value.GetLength(1)), .. MemoryMarshal.AsBytes(Flat(value))]);

        static Span<T> Flat(T[,] all) => all.Length == 0 ? [] : MemoryMarshal.CreateSpan(ref all[0, 0], all.Length);
    }

    static byte[] Packed(ref Utf8JsonReader reader) =>
        reader.TokenType == JsonTokenType.String && reader.TryGetBytesFromBase64(out var bytes)
            ? bytes : throw new JsonException("an array of numbers is not in base64");

    static ReadOnlySpan<T> Whole<T>(ReadOnlySpan<byte> bytes)
        where T : struct
    {
        var numbers = MemoryMarshal.Cast<byte, T>(bytes);
        return MemoryMarshal.AsBytes(numbers).Length == bytes.Length
            ? numbers : throw new JsonException("an array of numbers ends within one");
    }
}
