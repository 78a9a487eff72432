using System.Buffers.Binary;
using System.Numerics;

namespace Farberth.Adapters.Stores.Intake;

/// <summary>CRC-32C (Castagnoli), as RFC 3720 section 12.1 has it; one instruction for eight bytes where the machine has it.</summary>
public static class Crc32C
{
    public static uint Of(ReadOnlySpan<byte> bytes, uint before = 0)
    {
        var crc = ~before;
        for (; bytes.Length >= sizeof(ulong); bytes = bytes[sizeof(ulong)..])
            crc = BitOperations.Crc32C(crc, BinaryPrimitives.ReadUInt64LittleEndian(bytes));
        foreach (var one in bytes)
            crc = BitOperations.Crc32C(crc, one);
        return ~crc;
    }
}
