using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Service.Loop;

/// <summary>
/// Every message that the monitor hears: first what the log holds from a position on, then in batches what arrives.
/// What arrives is on disk before the broker is told so.
///
/// While the disk takes nothing, nothing is acknowledged, and a broker soon sends no more; a second link without a
/// session then brings what the pedestals say, so that the dock is still watched. What waits at the broker comes through
/// the first link once the disk is back, and goes into the log; the monitor knows most of it already, and a reading that
/// comes twice changes nothing.
/// </summary>
/// <param name="asking">What people ask for: it goes into the log too before the monitor hears it, and nowhere while the disk takes nothing.</param>
sealed class Intake(MqttLink link, Asking asking, IntakeLog? log, LogCursors? cursors, Func<MqttLink> openWatch, LogPosition from = default) : IAsyncDisposable
{
    /// <summary>One write and one flush for at most so many messages, or bytes of payload.</summary>
    public const int LargestBatch = 1024;
    const int LargestBatchBytes = 1024 * 1024;

    static readonly TimeSpan BetweenAttempts = TimeSpan.FromSeconds(1);
    static readonly byte[] Return = [.. "return"u8];

    readonly List<RecordedMessage> held = [];
    Task<bool> arrival = Task.FromResult(true);
    Task more = Task.CompletedTask;
    MqttLink? watch;
    int heldBytes;
    long lastHeld;
    DateTimeOffset nextAttempt;

    public bool IsClosed => link.Messages.Completion.IsCompleted;

    /// <summary>All that was given out lies before this position of the log, or came while the disk took nothing.</summary>
    public LogPosition Position { get; private set; }

    public IntakeState State { get; private set; } = new();

    /// <summary>
    /// Done when there may be something to take; while the disk takes nothing and the hands are full, that is when somebody asks for
    /// something, or time has passed.
    /// </summary>
    public Task WhenMore(CancellationToken cancel)
    {
        if (IsFull)
            return asking.WhenSome;
        if (arrival.IsCompleted)
            arrival = link.Messages.WaitToReadAsync(cancel).AsTask();
        // One for as long as neither comes: else a quiet dock would leave one behind with each tick.
        if (more.IsCompleted)
            more = Task.WhenAny(arrival, asking.WhenSome);
        return more;
    }

    /// <summary>What the log held at the start, from the position on. To be read to its end first: its own times count, not the clock's.</summary>
    public IEnumerable<RecordedMessage> Earlier()
    {
        Position = from;
        foreach (var (next, message) in log?.Read(from) ?? [])
        {
            Position = next;
            yield return message;
        }
    }

    /// <summary>
    /// A tick that no message has brought has changed something: the log has it too, as a message without a topic, so that whoever
    /// replays the log takes the same tick.
    /// </summary>
    public void Mark(DateTimeOffset tick)
    {
        if (held.Count == 0 && log?.Append([new(tick, new("", ReadOnlyMemory<byte>.Empty))]) is { IsDurable: true } marked)
            Position = marked.End;
    }

    /// <summary>
    /// The monitor goes on after a time away. The log has that too: who is killed before the next checkpoint plays the log once more, and must
    /// leave out the same ticks, or a step of an alarm would come at another moment and be told twice.
    /// </summary>
    public void MarkReturn(DateTimeOffset now)
    {
        if (log?.Append([new(now, new("", Return))]) is { IsDurable: true } marked)
            Position = marked.End;
    }

    public static bool IsReturn(RecordedMessage message) => IsMark(message) && message.Message.Payload.Span.SequenceEqual(Return);

    public static bool IsMark(RecordedMessage message) => message.Message.Topic.Length == 0;

    /// <summary>The next batch of what arrives, each message given out once; empty where nothing waits.</summary>
    /// <param name="notBefore">Ticks up to here are taken: what waited meanwhile arrives now, in the log too.</param>
    public async ValueTask<IReadOnlyList<RecordedMessage>> Next(DateTimeOffset now, DateTimeOffset notBefore)
    {
        var fresh = TakeWaiting(notBefore < now ? notBefore : now);
        if (held.Count > 0 && (State.IsDurable || now >= nextAttempt))
            await Keep(now).ConfigureAwait(false);
        var asked = asking.Take(now, Keep);
        State = State with { Held = held.Count, Bytes = log?.Bytes ?? 0, Unread = cursors?.Unread ?? 0, Lost = log?.Lost ?? 0 };
        return [.. fresh, .. asked, .. Watched()];
    }

    public async ValueTask DisposeAsync()
    {
        if (watch is not null)
            await watch.DisposeAsync().ConfigureAwait(false);
    }

    bool IsFull => held.Count >= LargestBatch || heldBytes >= LargestBatchBytes;

    List<RecordedMessage> TakeWaiting(DateTimeOffset notBefore)
    {
        var before = held.Count;
        while (!IsFull && link.Messages.TryRead(out var arrived))
        {
            held.Add(arrived.Recorded.At < notBefore ? arrived.Recorded with { At = notBefore } : arrived.Recorded);
            heldBytes += arrived.Recorded.Message.Payload.Length;
            lastHeld = arrived.Number;
        }
        return held[before..];
    }

    async ValueTask Keep(DateTimeOffset now)
    {
        var appended = log?.Append(held) ?? new Appended(Position);
        if (!appended.IsDurable)
        {
            State = State with { Problem = appended.Problem!, Since = State.Since ?? now };
            nextAttempt = now + BetweenAttempts;
            watch ??= openWatch();
            return;
        }
        link.Confirm(lastHeld);
        held.Clear();
        heldBytes = 0;
        (Position, State) = (appended.End, new IntakeState());
        if (watch is not null)
            await watch.DisposeAsync().ConfigureAwait(false);
        watch = null;
    }

    /// <summary>What people ask for: kept at once or not at all.</summary>
    string? Keep(IReadOnlyList<RecordedMessage> asked)
    {
        if (!State.IsDurable)
            return State.Problem;
        var appended = log?.Append(asked) ?? new Appended(Position);
        if (appended.IsDurable)
            Position = appended.End;
        return appended.Problem;
    }

    List<RecordedMessage> Watched()
    {
        var seen = new List<RecordedMessage>();
        while (seen.Count < LargestBatch && watch is not null && watch.Messages.TryRead(out var arrived))
        {
            seen.Add(arrived.Recorded);
            watch.Confirm(arrived.Number);
        }
        return seen;
    }
}
