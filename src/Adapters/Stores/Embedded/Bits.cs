using System.Buffers;
using System.Buffers.Binary;

namespace Farberth.Adapters.Stores.Embedded;

/// <summary>Numbers as few bytes: seven bits a byte, the sign folded into the lowest bit.</summary>
static class Bits
{
    public static void WriteVarint(this ArrayBufferWriter<byte> into, ulong value)
    {
        var span = into.GetSpan(10);
        var length = 0;
        for (; value >= 0x80; value >>= 7)
            span[length++] = (byte)(value | 0x80);
        span[length++] = (byte)value;
        into.Advance(length);
    }

    public static void WriteSigned(this ArrayBufferWriter<byte> into, long value) => into.WriteVarint((ulong)((value << 1) ^ (value >> 63)));

    public static void WriteDouble(this ArrayBufferWriter<byte> into, double value)
    {
        BinaryPrimitives.WriteDoubleLittleEndian(into.GetSpan(sizeof(double)), value);
        into.Advance(sizeof(double));
    }

    public static void WriteByte(this ArrayBufferWriter<byte> into, byte value)
    {
        into.GetSpan(1)[0] = value;
        into.Advance(1);
    }

    public static ulong ReadVarint(ref ReadOnlySpan<byte> from)
    {
        ulong value = 0;
        for (var shift = 0; ; shift += 7)
        {
            var one = ReadByte(ref from);
            value |= (ulong)(one & 0x7F) << shift;
            if (one < 0x80)
                return value;
        }
    }

    public static long ReadSigned(ref ReadOnlySpan<byte> from)
    {
        var folded = ReadVarint(ref from);
        return (long)(folded >> 1) ^ -(long)(folded & 1);
    }

    public static double ReadDouble(ref ReadOnlySpan<byte> from)
    {
        var value = BinaryPrimitives.ReadDoubleLittleEndian(from);
        from = from[sizeof(double)..];
        return value;
    }

    public static byte ReadByte(ref ReadOnlySpan<byte> from)
    {
        var one = from[0];
        from = from[1..];
        return one;
    }
}
