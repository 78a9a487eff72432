using System.Buffers;
using System.Buffers.Binary;
using System.Text;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Stores.Intake;

/// <summary>What stands at a place of a segment.</summary>
enum RecordState
{
    Whole,

    /// <summary>It may be whole: the bytes at hand end before it does.</summary>
    Cut,

    Damaged,
}

/// <summary>
/// One message as bytes, little-endian:
/// mark 4 | length of the body 4 | CRC-32C 4 | body: arrival in ticks 8 | flags 1 | length of the topic 2 | topic | payload.
///
/// The CRC is over the record's position in the log, the length and the body. With the position in it, bytes that lie
/// somewhere else than where they were written, such as a record that somebody sent as a payload, are no record.
/// </summary>
static class LogRecord
{
    /// <summary>Bytes of the longest body: the longest topic of MQTT, and far more than the longest payload that a link takes.</summary>
    public const int LargestBody = 256 * 1024;

    public const int HeaderBytes = 12;

    const uint Mark = 0x3152_4246; // "FBR1": the last character is the version
    const int FixedBytes = 11;
    const byte RetainFlag = 1;

    public static ReadOnlySpan<byte> MarkBytes => "FBR1"u8;

    public static int Length(RecordedMessage message) =>
        HeaderBytes + FixedBytes + Encoding.UTF8.GetByteCount(message.Message.Topic) + message.Message.Payload.Length;

    /// <summary>Writes the record that begins at <paramref name="position"/>; the position after it.</summary>
    /// <exception cref="ArgumentException">The message is longer than any that a link hands over.</exception>
    public static LogPosition Encode(RecordedMessage message, LogPosition position, IBufferWriter<byte> into)
    {
        var length = Length(message);
        if (length - HeaderBytes > LargestBody)
            throw new ArgumentException($"a message of {length} bytes does not fit into the log", nameof(message));
        var record = into.GetSpan(length)[..length];
        var body = record[HeaderBytes..];
        BinaryPrimitives.WriteInt64LittleEndian(body, message.At.UtcTicks);
        body[8] = message.Message.Retain ? RetainFlag : (byte)0;
        var topicBytes = Encoding.UTF8.GetBytes(message.Message.Topic, body[FixedBytes..]);
        BinaryPrimitives.WriteUInt16LittleEndian(body[9..], (ushort)topicBytes);
        message.Message.Payload.Span.CopyTo(body[(FixedBytes + topicBytes)..]);
        BinaryPrimitives.WriteUInt32LittleEndian(record, Mark);
        BinaryPrimitives.WriteInt32LittleEndian(record[4..], body.Length);
        BinaryPrimitives.WriteUInt32LittleEndian(record[8..], Crc(position, body));
        into.Advance(length);
        return position + length;
    }

    /// <summary>The record at the beginning of <paramref name="bytes"/>, which lie at <paramref name="position"/>.</summary>
    /// <param name="length">Its bytes, header and all, where it is whole.</param>
    public static RecordState Look(ReadOnlySpan<byte> bytes, LogPosition position, out int length)
    {
        length = 0;
        if (bytes.Length < HeaderBytes)
            return MarkBytes.StartsWith(bytes[..Math.Min(MarkBytes.Length, bytes.Length)]) ? RecordState.Cut : RecordState.Damaged;
        var bodyBytes = BinaryPrimitives.ReadInt32LittleEndian(bytes[4..]);
        if (!bytes.StartsWith(MarkBytes) || bodyBytes is < FixedBytes or > LargestBody)
            return RecordState.Damaged;
        if (bytes.Length < HeaderBytes + bodyBytes)
            return RecordState.Cut;
        var body = bytes.Slice(HeaderBytes, bodyBytes);
        length = HeaderBytes + bodyBytes;
        return BinaryPrimitives.ReadUInt32LittleEndian(bytes[8..]) == Crc(position, body)
            && FixedBytes + BinaryPrimitives.ReadUInt16LittleEndian(body[9..]) <= bodyBytes ? RecordState.Whole : RecordState.Damaged;
    }

    /// <summary>The message of a whole record; its payload stays where it is.</summary>
    public static RecordedMessage Decode(ReadOnlyMemory<byte> record)
    {
        var body = record[HeaderBytes..];
        var topicBytes = BinaryPrimitives.ReadUInt16LittleEndian(body.Span[9..]);
        return new RecordedMessage(
            new DateTimeOffset(BinaryPrimitives.ReadInt64LittleEndian(body.Span), TimeSpan.Zero),
            new WireMessage(
                Encoding.UTF8.GetString(body.Span.Slice(FixedBytes, topicBytes)), body[(FixedBytes + topicBytes)..], (body.Span[8] & RetainFlag) != 0));
    }

    static uint Crc(LogPosition position, ReadOnlySpan<byte> body)
    {
        Span<byte> head = stackalloc byte[12];
        BinaryPrimitives.WriteInt64LittleEndian(head, position.Offset);
        BinaryPrimitives.WriteInt32LittleEndian(head[8..], body.Length);
        return Crc32C.Of(body, Crc32C.Of(head));
    }
}
