using System.Buffers;
using Farberth.Monitoring.Telemetry;
using Microsoft.Win32.SafeHandles;

namespace Farberth.Adapters.Stores.Intake;

/// <summary>
/// All that has arrived, in order, durable before anybody says so to the broker. One writer; any number of readers, each
/// with a cursor of its own that it keeps where it keeps what it made of the messages.
///
/// The log is a row of files. A batch is one write and one flush to disk. After a crash the last file may end in the
/// middle of a write: that tail is cut off on opening, and as nobody was told that it is durable, nothing is lost with
/// it. After a failed write the next batch begins a new file where the last good one ended.
/// </summary>
public sealed class IntakeLog : IDisposable
{
    readonly Lock gate = new();
    readonly string folder;
    readonly IntakeLogOptions options;
    readonly FileStream owner;
    readonly List<Segment> segments;
    readonly ArrayBufferWriter<byte> batchBytes = new();
    SafeFileHandle? writing;
    LogPosition trimmedTo;
    TaskCompletionSource grown = new(TaskCreationOptions.RunContinuationsAsynchronously);
    long lost, skippedBytes;

    IntakeLog(string folder, IntakeLogOptions options, FileStream owner, IReadOnlyList<Segment> found, LogPosition notBefore)
    {
        (this.folder, this.options, this.owner) = (folder, options, owner);
        ArgumentOutOfRangeException.ThrowIfLessThan(options.MostBytes, 2 * options.SegmentBytes);
        segments = [.. found.SkipLast(1), .. found.TakeLast(1).Select(WithoutTornTail)];
        // Somebody has read further than the log reaches, so the log was taken away: never give a position twice.
        if (segments.Count == 0 || End < notBefore)
            segments.Add(Segment.At(folder, notBefore));
        trimmedTo = Start;
    }

    /// <summary>Opens the log of a folder, or begins one.</summary>
    /// <param name="notBefore">The furthest that any reader has kept as its cursor.</param>
    /// <exception cref="IOException">Another process has it open, or the disk does not give or take what is needed.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder may not be used.</exception>
    public static IntakeLog Open(string folder, IntakeLogOptions? options = null, LogPosition notBefore = default)
    {
        Directory.CreateDirectory(folder);
        var owner = new FileStream(Path.Combine(folder, "owner"), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        try
        {
            return new IntakeLog(folder, options ?? IntakeLogOptions.Usual, owner, Segment.In(folder), notBefore);
        }
        catch
        {
            owner.Dispose();
            throw;
        }
    }

    /// <summary>The oldest message still there.</summary>
    public LogPosition Start { get { lock (gate) return segments[0].Start; } }

    /// <summary>After the newest durable message.</summary>
    public LogPosition End => Newest.End;

    /// <summary>On disk.</summary>
    public long Bytes { get { lock (gate) return segments.Sum(segment => segment.End.Offset - segment.Start.Offset); } }

    /// <summary>Messages, since opening, that went because the log had reached its bound before they were trimmed.</summary>
    public long Lost => Volatile.Read(ref lost);

    /// <summary>Bytes, since opening, that readers had to step over because they are no longer what was written.</summary>
    public long SkippedBytes => Volatile.Read(ref skippedBytes);

    /// <summary>Writes a batch and flushes it to disk. A failure is an answer; the same log takes the batch again once the disk does.</summary>
    public Appended Append(IReadOnlyList<RecordedMessage> batch)
    {
        if (batch.Count == 0)
            return new Appended(End);
        try
        {
            var end = End;
            batchBytes.ResetWrittenCount();
            foreach (var message in batch)
                end = LogRecord.Encode(message, end, batchBytes);
            Write(batchBytes.WrittenSpan);
            Commit(end);
            return new Appended(end);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // What the file holds behind the last batch is unknown now; the next one goes into a new file.
            Close();
            return new Appended(End, e.Message);
        }
    }

    /// <summary>
    /// From a position on, up to the end of the log at that moment. Positions are those that the log gave; what is
    /// older than its start is gone, and reading begins with the start.
    /// </summary>
    /// <exception cref="IOException">A file cannot be read; said while reading.</exception>
    public IEnumerable<(LogPosition Next, RecordedMessage Message)> Read(LogPosition from)
    {
        for (var at = from; Holding(at) is { } segment; at = segment.End)
            foreach (var record in Existing(segment, at))
                yield return record;
    }

    /// <summary>Done when there is something to read after the position.</summary>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public async Task WhenBeyond(LogPosition position, CancellationToken cancel)
    {
        while (true)
        {
            Task next;
            lock (gate)
            {
                if (segments[^1].End > position)
                    return;
                next = grown.Task;
            }
            await next.WaitAsync(cancel).ConfigureAwait(false);
        }
    }

    /// <summary>Every reader has passed this position and will not come back: whole files before it are deleted.</summary>
    public void Trim(LogPosition upTo)
    {
        lock (gate)
        {
            trimmedTo = LogPosition.Later(trimmedTo, upTo);
            while (segments.Count > 1 && segments[0].End <= trimmedTo && TryDelete(segments[0]))
                segments.RemoveAt(0);
        }
    }

    public void Dispose()
    {
        Close();
        owner.Dispose();
    }

    Segment Newest { get { lock (gate) return segments[^1]; } }

    void Write(ReadOnlySpan<byte> bytes)
    {
        KeepWithin(options.MostBytes - bytes.Length);
        var segment = Newest;
        if (writing is null || segment.End.Offset - segment.Start.Offset >= options.SegmentBytes)
            segment = Begin();
        RandomAccess.Write(writing!, bytes, segment.End.Offset - segment.Start.Offset);
        RandomAccess.FlushToDisk(writing!);
    }

    /// <summary>A new file at the end of the log; one of that name can hold only what is left of a failed write.</summary>
    Segment Begin()
    {
        Close();
        var segment = Segment.At(folder, End);
        writing = File.OpenHandle(segment.Path, FileMode.Create, FileAccess.Write, FileShare.Read | FileShare.Delete);
        FolderSync.Flush(folder);
        lock (gate)
        {
            if (segments[^1].Start == segment.Start)
                segments.RemoveAt(segments.Count - 1);
            segments.Add(segment);
        }
        return segment;
    }

    void Commit(LogPosition end)
    {
        TaskCompletionSource before;
        lock (gate)
        {
            segments[^1] = segments[^1] with { End = end };
            before = grown;
            grown = new(TaskCreationOptions.RunContinuationsAsynchronously);
        }
        before.SetResult();
    }

    void KeepWithin(long bytes)
    {
        while (Bytes > bytes && Oldest() is { } oldest)
        {
            var unread = Existing(oldest.Segment, oldest.TrimmedTo).LongCount();
            if (!TryDelete(oldest.Segment))
                throw new IOException($"the log has reached its bound and {oldest.Segment.Path} cannot be deleted");
            lock (gate)
                // A reader that trimmed meanwhile has taken it out, and then nothing was lost.
                if (segments.Remove(oldest.Segment))
                    Interlocked.Add(ref lost, unread);
        }
    }

    /// <summary>The oldest segment, unless it is the one that is written.</summary>
    (Segment Segment, LogPosition TrimmedTo)? Oldest()
    {
        lock (gate)
            return segments.Count > 1 ? (segments[0], trimmedTo) : null;
    }

    Segment? Holding(LogPosition at)
    {
        lock (gate)
            return segments.Find(segment => segment.End > at);
    }

    /// <summary>The segment's messages; none where it has been deleted meanwhile.</summary>
    IEnumerable<(LogPosition Next, RecordedMessage Message)> Existing(Segment segment, LogPosition from)
    {
        using var records = SegmentReader.Read(segment, from, skipped => Interlocked.Add(ref skippedBytes, skipped)).GetEnumerator();
        while (true)
        {
            try
            {
                if (!records.MoveNext())
                    yield break;
            }
            catch (FileNotFoundException)
            {
                yield break;
            }
            yield return records.Current;
        }
    }

    static Segment WithoutTornTail(Segment last)
    {
        var end = last.Start;
        foreach (var (next, _) in SegmentReader.Read(last, last.Start))
            end = next;
        using var file = File.OpenHandle(last.Path, FileMode.Open, FileAccess.Write);
        RandomAccess.SetLength(file, end.Offset - last.Start.Offset);
        // Whole records of a batch that was not flushed are kept, so they must be as durable as the others.
        RandomAccess.FlushToDisk(file);
        return last with { End = end };
    }

    static bool TryDelete(Segment segment)
    {
        try
        {
            File.Delete(segment.Path);
            return true;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }

    void Close()
    {
        writing?.Dispose();
        writing = null;
    }
}
