using System.IO.Compression;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Recordings;

/// <summary>One line of a recording: its message, or what is wrong with it.</summary>
/// <param name="Line">Counted from 1.</param>
/// <param name="Message">Null where the line is damaged.</param>
/// <param name="Problem">Empty where it is not.</param>
public sealed record RecordingEntry(long Line, RecordedMessage? Message, string Problem);

/// <summary>Recordings on disk: one message a line, in order of arrival; compressed where the name ends in .gz.</summary>
public static class RecordingFile
{
    /// <summary>Bytes of the longest line that is taken: several times what the largest payload needs.</summary>
    public const int LongestLine = 1024 * 1024;

    /// <summary>
    /// All lines in order, read as they are asked for. Blank lines are left out but counted. A damaged or cut line, also
    /// the last one of a file that was not closed, comes as an entry with its problem and does not end the reading.
    /// </summary>
    /// <exception cref="IOException">The file cannot be opened or read; said when the first line is asked for.</exception>
    /// <exception cref="UnauthorizedAccessException">The file may not be read.</exception>
    public static IEnumerable<RecordingEntry> Read(string path)
    {
        using var stream = OpenRead(path);
        var lines = new LineReader(stream, LongestLine);
        long number = 0;
        while (Next(lines, ++number) is { } entry)
            if (entry.Message is not null || entry.Problem.Length > 0)
                yield return entry;
        if (lines.StreamFault is { } fault)
            yield return new RecordingEntry(number, null, $"the file is cut or damaged here: {fault}");
    }

    /// <summary>Starts a recording; a file of that name is replaced.</summary>
    /// <exception cref="IOException">The file cannot be made.</exception>
    public static RecordingWriter Create(string path)
    {
        var file = new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.Read);
        return new RecordingWriter(file, IsCompressed(path) ? new GZipStream(file, CompressionLevel.Optimal) : file);
    }

    static Stream OpenRead(string path)
    {
        var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, 1, FileOptions.SequentialScan);
        return IsCompressed(path) ? new GZipStream(file, CompressionMode.Decompress) : file;
    }

    static bool IsCompressed(string path) => path.EndsWith(".gz", StringComparison.OrdinalIgnoreCase);

    static RecordingEntry? Next(LineReader lines, long number)
    {
        if (!lines.TryRead(out var line, out var tooLong))
            return null;
        if (tooLong)
            return new RecordingEntry(number, null, $"the line is longer than {LongestLine} bytes");
        if (line.Trim(" \t"u8).IsEmpty)
            return new RecordingEntry(number, null, "");
        return RecordingLine.TryDecode(line, out var message, out var problem)
            ? new RecordingEntry(number, message, "")
            : new RecordingEntry(number, null, problem);
    }
}
