using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Recordings;

/// <summary>Writes a recording. What was flushed can be read by others while the writing goes on.</summary>
public sealed class RecordingWriter : IDisposable
{
    readonly FileStream file;
    readonly BufferedStream stream;

    /// <param name="into">What packs for the file, or the file itself.</param>
    internal RecordingWriter(FileStream file, Stream into) => (this.file, stream) = (file, new BufferedStream(into, 64 * 1024));

    public long Count { get; private set; }

    /// <exception cref="IOException">The disk does not take it.</exception>
    public void Write(RecordedMessage message)
    {
        stream.Write(RecordingLine.Encode(message));
        stream.WriteByte((byte)'\n');
        Count++;
    }

    /// <summary>What was written so far is on the disk when this returns.</summary>
    /// <exception cref="IOException">The disk does not take it.</exception>
    public void Flush()
    {
        stream.Flush();
        file.Flush(flushToDisk: true);
    }

    public void Dispose() => stream.Dispose();
}
