namespace Farberth.Adapters.Recordings;

/// <summary>Splits a stream into lines of bytes. Memory is bounded by the longest line that is taken.</summary>
sealed class LineReader(Stream stream, int longestLine)
{
    byte[] buffer = new byte[Math.Min(64 * 1024, longestLine)];
    int start;
    int end;
    bool atEnd;

    /// <summary>What stopped the stream before its proper end, such as a compressed file that was cut.</summary>
    public string? StreamFault { get; private set; }

    /// <summary>The next line without its line break, valid until the next call; false at the end of the stream.</summary>
    /// <param name="tooLong">The line was longer than is taken; only its beginning is there.</param>
    public bool TryRead(out ReadOnlySpan<byte> line, out bool tooLong)
    {
        var searched = start;
        tooLong = false;
        while (true)
        {
            var length = buffer.AsSpan(searched, end - searched).IndexOf((byte)'\n');
            if (length >= 0 || atEnd)
                return Take(length < 0 ? end : searched + length, length >= 0, out line);
            searched = end;
            if (end - start == longestLine)
            {
                tooLong = true;
                line = buffer.AsSpan(start, end - start);
                SkipRestOfLine();
                return true;
            }
            var moved = start;
            Fill();
            searched -= moved - start;
        }
    }

    bool Take(int lineEnd, bool hasBreak, out ReadOnlySpan<byte> line)
    {
        line = buffer.AsSpan(start, lineEnd - start);
        var isLine = hasBreak || line.Length > 0;
        start = hasBreak ? lineEnd + 1 : lineEnd;
        if (line.EndsWith("\r"u8))
            line = line[..^1];
        return isLine;
    }

    // Leaves the beginning of the long line in place, for whoever is looking at it.
    void SkipRestOfLine()
    {
        var chunk = new byte[64 * 1024];
        start = end = 0;
        while (!atEnd)
        {
            var read = Read(chunk);
            var at = chunk.AsSpan(0, read).IndexOf((byte)'\n');
            if (at < 0)
                continue;
            var rest = chunk.AsSpan((at + 1)..read);
            buffer = new byte[buffer.Length];
            rest.CopyTo(buffer);
            end = rest.Length;
            return;
        }
    }

    void Fill()
    {
        if (start > 0)
        {
            buffer.AsSpan(start, end - start).CopyTo(buffer);
            end -= start;
            start = 0;
        }
        if (end == buffer.Length)
            Array.Resize(ref buffer, Math.Min(buffer.Length * 2, longestLine));
        end += Read(buffer.AsSpan(end));
    }

    int Read(Span<byte> into)
    {
        try
        {
            var read = stream.Read(into);
            atEnd = read == 0;
            return read;
        }
        catch (Exception e) when (e is InvalidDataException or EndOfStreamException)
        {
            StreamFault = e.Message;
            atEnd = true;
            return 0;
        }
    }
}
