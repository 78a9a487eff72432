namespace Farberth.Cli.Replaying;

/// <summary>A file of lines, standard output, or nowhere.</summary>
sealed class LineSink : IDisposable
{
    public const string StandardOutput = "-";

    readonly Stream stream;

    LineSink(Stream stream) => this.stream = new BufferedStream(stream, 64 * 1024);

    /// <param name="path">Null: what is written goes nowhere.</param>
    /// <exception cref="IOException">The file cannot be made.</exception>
    public static LineSink? Open(string? path) => path switch
    {
        null => null,
        StandardOutput => new LineSink(Console.OpenStandardOutput()),
        _ => new LineSink(new FileStream(path, FileMode.Create, FileAccess.Write)),
    };

    public void Write(ReadOnlySpan<byte> line)
    {
        stream.Write(line);
        stream.WriteByte((byte)'\n');
    }

    public void Dispose() => stream.Dispose();
}
