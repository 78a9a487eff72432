using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Stores.InfluxDb;

/// <summary>
/// Carries a log into the database, in order, from a cursor of its own. While the server is away the messages wait in the
/// log, which is bounded; nothing is held in memory but one batch.
///
/// The cursor moves once what lies before it has been confirmed and has had <see cref="InfluxOptions.SettledAfter"/> to come to
/// the server's disk. When the server has been away, sending begins again at the cursor: a server that was killed may have lost
/// what it had just confirmed. As a point written twice is there once, sending too much does no harm.
/// </summary>
public sealed class InfluxForwarder
{
    // A server that asks for more patience than this is asked again all the same.
    static readonly TimeSpan LongestPatience = TimeSpan.FromMinutes(10);

    readonly IntakeLog log;
    readonly Func<RecordedMessage, IEnumerable<Point>> points;
    readonly InfluxOptions options;
    readonly TimeProvider time;
    readonly Func<double> unitRandom;
    readonly PositionFile file;
    readonly SetAside setAside;
    readonly BatchSender sender;
    readonly Queue<(LogPosition Next, long ConfirmedAt)> unsettled = [];
    int failures;

    /// <param name="points">What a message is in the database; must be the same each time.</param>
    /// <param name="folder">Exists; for the cursor and the lines that were not taken.</param>
    /// <param name="name">Of the files in the folder.</param>
    /// <param name="unitRandom">0 to 1, for the jitter of the waits.</param>
    /// <exception cref="IOException">The cursor cannot be read.</exception>
    public InfluxForwarder(
        IntakeLog log, Func<RecordedMessage, IEnumerable<Point>> points, InfluxServer server, InfluxOptions options, string folder, string name,
        TimeProvider time, Func<double> unitRandom)
    {
        (this.log, this.points, this.options, this.time, this.unitRandom) = (log, points, options, time, unitRandom);
        file = CursorFile(folder, name);
        setAside = new SetAside(Path.Combine(folder, $"{name}.set-aside"), options.MostSetAsideBytes);
        sender = new BatchSender(server, setAside);
        var cursor = file.Read();
        Progress = new(new ForwarderProgress(cursor, cursor, null, 0, 0, 0, ""));
    }

    /// <summary>Changed by the loop alone.</summary>
    internal Observed<ForwarderProgress> Progress { get; }

    public ForwarderState State
    {
        get
        {
            var (now, end) = (Progress.Value, log.End);
            return new(
                now.Settled, now.Sent, Math.Max(0, end.Offset - now.Sent.Offset), now.Oldest is { } oldest ? time.GetUtcNow() - oldest : TimeSpan.Zero,
                now.Points, setAside.Count, now.MissedBytes, now.Failures, now.Problem);
        }
    }

    /// <summary>The cursor that a forwarder of that name has kept: a log must not begin before it.</summary>
    public static LogPosition KeptCursor(string folder, string name) => CursorFile(folder, name).Read();

    /// <summary>Until it is stopped.</summary>
    /// <exception cref="OperationCanceledException">Stopped.</exception>
    public async Task Run(CancellationToken stop)
    {
        while (true)
        {
            TimeSpan wait;
            try
            {
                wait = await Round(stop).ConfigureAwait(false);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                wait = Failed(new WriteOutcome(WriteStatus.Busy, e.Message));
            }
            await Task.Delay(wait, time, stop).ConfigureAwait(false);
        }
    }

    /// <summary>One batch; how long to wait before the next.</summary>
    async Task<TimeSpan> Round(CancellationToken stop)
    {
        StepOverMissed();
        var batch = Batch(Progress.Value.Sent);
        Progress.Set(Progress.Value with { Oldest = batch.Oldest });
        if (batch.Lines.Count > 0 && await sender.Send(batch.Lines, stop).ConfigureAwait(false) is { Status: not WriteStatus.Accepted } outcome)
            return Failed(outcome);
        failures = 0;
        unsettled.Enqueue((batch.Next, time.GetTimestamp()));
        Progress.Set(Progress.Value with { Sent = batch.Next, Oldest = null, Points = Progress.Value.Points + batch.Lines.Count, Problem = "" });
        Settle();
        return batch.IsFull ? TimeSpan.Zero : options.BatchWithin;
    }

    TimeSpan Failed(WriteOutcome outcome)
    {
        if (outcome.Status == WriteStatus.Away)
        {
            unsettled.Clear();
            Progress.Set(Progress.Value with { Sent = Progress.Value.Settled });
        }
        Progress.Set(Progress.Value with { Failures = Progress.Value.Failures + 1, Problem = outcome.Problem });
        var wait = options.Backoff.Delay(failures++, unitRandom());
        return outcome.RetryAfter is { } asked && asked > wait ? (asked < LongestPatience ? asked : LongestPatience) : wait;
    }

    void StepOverMissed()
    {
        if (log.Start.Offset - Progress.Value.Sent.Offset is > 0 and var missed)
            Progress.Set(Progress.Value with { Sent = log.Start, MissedBytes = Progress.Value.MissedBytes + missed });
    }

    void Settle()
    {
        var settled = Progress.Value.Settled;
        while (unsettled.TryPeek(out var oldest) && time.GetElapsedTime(oldest.ConfirmedAt) >= options.SettledAfter)
            settled = unsettled.Dequeue().Next;
        if (settled <= Progress.Value.Settled)
            return;
        file.Write(settled);
        Progress.Set(Progress.Value with { Settled = settled });
    }

    (List<string> Lines, LogPosition Next, DateTimeOffset? Oldest, bool IsFull) Batch(LogPosition from)
    {
        var (lines, bytes, next, oldest) = (new List<string>(), 0, from, (DateTimeOffset?)null);
        foreach (var (after, message) in log.Read(from))
        {
            foreach (var point in points(message))
            {
                lines.Add(point.Line());
                bytes += lines[^1].Length + 1;
            }
            next = after;
            oldest ??= message.At;
            if (lines.Count >= options.MostLines || bytes >= options.MostBytes)
                return (lines, next, oldest, true);
        }
        return (lines, next, oldest, false);
    }

    static PositionFile CursorFile(string folder, string name) => new(Path.Combine(folder, $"{name}.cursor"));
}

/// <param name="Oldest">Arrival of the oldest message of the batch that is on its way.</param>
sealed record ForwarderProgress(
    LogPosition Settled, LogPosition Sent, DateTimeOffset? Oldest, long Points, long MissedBytes, long Failures, string Problem);
