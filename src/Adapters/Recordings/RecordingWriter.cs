using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Recordings;

/// <summary>Writes a recording. What was flushed can be read by others while the writing goes on.</summary>
public sealed class RecordingWriter : IDisposable
{
    readonly BufferedStream stream;

    internal RecordingWriter(Stream stream) => this.stream = new BufferedStream(stream, 64 * 1024);

    public long Count { get; private set; }

    /// <exception cref="IOException">The disk does not take it.</exception>
    public void Write(RecordedMessage message)
    {
        stream.Write(RecordingLine.Encode(message));
        stream.WriteByte((byte)'\n');
        Count++;
    }

    public void Flush() => stream.Flush();

    public void Dispose() => stream.Dispose();
}
