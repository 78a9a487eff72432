using System.Buffers;
using System.Buffers.Binary;
using System.IO.Compression;
using Farberth.Adapters.Stores.Intake;

namespace Farberth.Adapters.Stores.Embedded;

/// <summary>
/// A blob that knows where it belongs: CRC-32C 4 | length unpacked, 4, or 0 where they are not packed | the bytes, packed
/// where that is worth it. The CRC is over the place too, so that a blob at the wrong place is as good as a damaged one.
/// </summary>
static class Sealed
{
    const int HeaderBytes = 8;
    const int LargestUnpacked = 64 * 1024 * 1024;

    // Less than this packs badly, and packing costs more time than all the rest.
    const int WorthPacking = 256;

    // Fast; the differences are small numbers, and most of what can be gained is gained.
    const int Quality = 1;
    const int Window = 16;

    public static byte[] Seal(ReadOnlySpan<byte> bytes, long series, long at)
    {
        var isPacked = bytes.Length >= WorthPacking;
        var blob = isPacked ? Packed(bytes) : Plain(bytes);
        BinaryPrimitives.WriteInt32LittleEndian(blob.AsSpan(4), isPacked ? bytes.Length : 0);
        BinaryPrimitives.WriteUInt32LittleEndian(blob, Crc(blob, series, at));
        return blob;
    }

    /// <summary>Null where the blob is not what was written there.</summary>
    public static byte[]? Open(ReadOnlySpan<byte> blob, long series, long at)
    {
        if (blob.Length < HeaderBytes || BinaryPrimitives.ReadUInt32LittleEndian(blob) != Crc(blob, series, at))
            return null;
        var length = BinaryPrimitives.ReadInt32LittleEndian(blob[4..]);
        if (length is < 0 or > LargestUnpacked)
            return null;
        if (length == 0)
            return blob[HeaderBytes..].ToArray();
        var bytes = new byte[length];
        return BrotliDecoder.TryDecompress(blob[HeaderBytes..], bytes, out var written) && written == length ? bytes : null;
    }

    static byte[] Plain(ReadOnlySpan<byte> bytes)
    {
        var blob = new byte[HeaderBytes + bytes.Length];
        bytes.CopyTo(blob.AsSpan(HeaderBytes));
        return blob;
    }

    static byte[] Packed(ReadOnlySpan<byte> bytes)
    {
        var packed = ArrayPool<byte>.Shared.Rent(BrotliEncoder.GetMaxCompressedLength(bytes.Length));
        if (!BrotliEncoder.TryCompress(bytes, packed, out var length, Quality, Window))
            throw new InvalidOperationException("the packed bytes do not fit where they must fit");
        var blob = Plain(packed.AsSpan(0, length));
        ArrayPool<byte>.Shared.Return(packed);
        return blob;
    }

    static uint Crc(ReadOnlySpan<byte> blob, long series, long at)
    {
        Span<byte> place = stackalloc byte[16];
        BinaryPrimitives.WriteInt64LittleEndian(place, series);
        BinaryPrimitives.WriteInt64LittleEndian(place[8..], at);
        return Crc32C.Of(blob[4..], Crc32C.Of(place));
    }
}
