using System.IO.Compression;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Farberth.Monitoring.Remembering;

/// <summary>
/// A memory as bytes: gzipped JSON. Every double comes back to the last bit: as the shortest text that names it, or packed in an array.
/// </summary>
static class MemoryBytes
{
    static readonly JsonSerializerOptions Options = new()
    {
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
        IgnoreReadOnlyProperties = true,
        RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true,
        Converters = { new JsonStringEnumConverter(), new PackedArrays() },
    };

    public static byte[] Of(SiteMemory memory)
    {
        using var bytes = new MemoryStream();
        using (var zip = new GZipStream(bytes, CompressionLevel.Fastest))
            JsonSerializer.Serialize(zip, memory, Options);
        return bytes.ToArray();
    }

    public static SiteMemoryResult Read(ReadOnlyMemory<byte> bytes)
    {
        try
        {
            using var json = Unzipped(bytes);
            if (JsonSerializer.Deserialize<VersionOnly>(json, Options)?.Version is var version && version != SiteMemory.PresentVersion)
                return new(null, $"it is of version {version}, and this program reads version {SiteMemory.PresentVersion}");
            json.Position = 0;
            return JsonSerializer.Deserialize<SiteMemory>(json, Options) is { } memory ? new(memory, null) : new(null, "it is empty");
        }
        catch (Exception broken) when (broken is JsonException or InvalidDataException or NotSupportedException)
        {
            return new(null, $"it cannot be read: {broken.Message}");
        }
    }

    static MemoryStream Unzipped(ReadOnlyMemory<byte> bytes)
    {
        using var zip = new GZipStream(new MemoryStream(bytes.ToArray()), CompressionMode.Decompress);
        var json = new MemoryStream();
        zip.CopyTo(json);
        json.Position = 0;
        return json;
    }

    sealed record VersionOnly
    {
        public int? Version { get; init; }
    }
}
