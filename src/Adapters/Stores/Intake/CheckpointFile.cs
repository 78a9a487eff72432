using System.Buffers.Binary;

namespace Farberth.Adapters.Stores.Intake;

/// <summary>What somebody who reads a log remembered at one of its positions.</summary>
public sealed record Checkpoint(LogPosition Position, ReadOnlyMemory<byte> Memory);

/// <summary>
/// The newest checkpoint, in one file; a crash leaves the old one or the new one.
/// Eight bytes of position and four of CRC-32C over position and memory, little endian, then the memory.
/// </summary>
public sealed class CheckpointFile(string path)
{
    const int PositionBytes = sizeof(long), HeaderBytes = PositionBytes + sizeof(uint);

    /// <summary>Null where there is none yet.</summary>
    /// <exception cref="InvalidDataException">What is there is not what was written.</exception>
    /// <exception cref="IOException">The disk does not give it.</exception>
    public Checkpoint? Read()
    {
        if (!File.Exists(path))
            return null;
        var bytes = File.ReadAllBytes(path);
        if (bytes.Length < HeaderBytes || BinaryPrimitives.ReadUInt32LittleEndian(bytes.AsSpan(PositionBytes)) != Sum(bytes))
            throw new InvalidDataException("the checkpoint is not what was written");
        return new(new LogPosition(BinaryPrimitives.ReadInt64LittleEndian(bytes)), bytes.AsMemory(HeaderBytes));
    }

    /// <summary>Durable on return.</summary>
    /// <exception cref="IOException">The disk does not take it; the one before is still there.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder may not be written to.</exception>
    public void Write(Checkpoint checkpoint)
    {
        var bytes = new byte[HeaderBytes + checkpoint.Memory.Length];
        BinaryPrimitives.WriteInt64LittleEndian(bytes, checkpoint.Position.Offset);
        checkpoint.Memory.CopyTo(bytes.AsMemory(HeaderBytes));
        BinaryPrimitives.WriteUInt32LittleEndian(bytes.AsSpan(PositionBytes), Sum(bytes));
        WholeFile.Replace(path, bytes);
    }

    static uint Sum(byte[] bytes) => Crc32C.Of(bytes.AsSpan(HeaderBytes), Crc32C.Of(bytes.AsSpan(0, PositionBytes)));
}
