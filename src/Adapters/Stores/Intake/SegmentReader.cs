using Farberth.Monitoring.Telemetry;
using Microsoft.Win32.SafeHandles;

namespace Farberth.Adapters.Stores.Intake;

/// <summary>
/// Reads the records of one segment. Bytes that are no record are stepped over up to the next one that is, so that one
/// damaged place does not hide what was written after it.
/// </summary>
static class SegmentReader
{
    // Several of the largest records; also what one reader holds in memory.
    const int ChunkBytes = 1024 * 1024;

    /// <param name="from">A place between two of its records.</param>
    /// <param name="skipped">Told how many bytes were stepped over.</param>
    /// <exception cref="IOException">The file is gone, or cannot be read.</exception>
    public static IEnumerable<(LogPosition Next, RecordedMessage Message)> Read(Segment segment, LogPosition from, Action<long>? skipped = null)
    {
        using var file = File.OpenHandle(segment.Path, share: FileShare.ReadWrite | FileShare.Delete);
        var at = LogPosition.Later(from, segment.Start);
        var lastWhole = at;
        for (var isLast = false; !isLast;)
        {
            var chunkStart = at;
            var chunk = Chunk(file, segment, at);
            isLast = chunk.Length < ChunkBytes || at + chunk.Length == segment.End;
            while (Find(chunk, chunkStart, ref at, isLast) is { } length)
            {
                if (at > lastWhole)
                    skipped?.Invoke(at.Offset - lastWhole.Offset);
                var message = LogRecord.Decode(chunk.AsMemory((int)(at.Offset - chunkStart.Offset), length));
                lastWhole = at += length;
                yield return (at, message);
            }
        }
        if (segment.End > lastWhole)
            skipped?.Invoke(segment.End.Offset - lastWhole.Offset);
    }

    static byte[] Chunk(SafeFileHandle file, Segment segment, LogPosition at)
    {
        var chunk = new byte[Math.Min(ChunkBytes, segment.End.Offset - at.Offset)];
        var filled = 0;
        while (filled < chunk.Length && RandomAccess.Read(file, chunk.AsSpan(filled), at.Offset - segment.Start.Offset + filled) is > 0 and var read)
            filled += read;
        return filled == chunk.Length ? chunk : chunk[..filled];
    }

    /// <summary>
    /// Moves <paramref name="at"/> to the next whole record and gives its length; null where the chunk has no more, and
    /// then <paramref name="at"/> is where the next chunk must begin.
    /// </summary>
    static int? Find(byte[] chunk, LogPosition chunkStart, ref LogPosition at, bool isLast)
    {
        while (true)
        {
            var rest = chunk.AsSpan((int)(at.Offset - chunkStart.Offset));
            if (rest.IsEmpty)
                return null;
            var state = LogRecord.Look(rest, at, out var length);
            if (state == RecordState.Whole)
                return length;
            if (state == RecordState.Cut && !isLast)
                return null;
            var mark = rest[1..].IndexOf(LogRecord.MarkBytes);
            // Where there is none, a mark may still begin in the last three bytes.
            at += mark >= 0 ? mark + 1 : Math.Max(1, rest.Length - (LogRecord.MarkBytes.Length - 1));
        }
    }
}
