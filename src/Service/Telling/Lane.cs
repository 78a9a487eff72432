using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telling;

namespace Farberth.Service.Telling;

/// <summary>What is to be sent now: one row, or several in one notice.</summary>
/// <param name="LeftOut">Rows that were given up unsent, which the notice has to mention.</param>
sealed record Sending(IReadOnlyList<OutboxRow> Rows, int LeftOut);

/// <summary>
/// What one person is to be told on one channel. Hazards first, else in the order in which it happened; of one alarm always in that order.
/// One message at a time; what fails lets the next alarm's go first, and the wait before an attempt grows. It knows no clock and sends nothing.
/// </summary>
/// <param name="combines">Several events may go into one notice.</param>
sealed class Lane(bool combines, TellingLimits limits, Backoff backoff, Func<double> unitRandom)
{
    readonly List<OutboxRow> waiting = [];
    readonly Queue<DateTimeOffset> sent = new();
    DateTimeOffset notBefore = DateTimeOffset.MinValue;
    bool wasAskedToWait;
    bool wasHeldBack;
    bool isGone;
    int failures;
    int leftOut;

    public int Count => waiting.Count;

    /// <summary>Takes one more in.</summary>
    /// <returns>What is given up for it.</returns>
    public IReadOnlyList<OutboxRow> Take(OutboxRow row)
    {
        if (isGone)
            return [GivenUp(row, "nobody is reached at that address any more")];
        waiting.Add(row);
        // A hazard does not wait for the next attempt, unless the other side has named a time.
        if (Urgency.IsHazard(row.Event) && !wasAskedToWait)
            notBefore = DateTimeOffset.MinValue;
        if (waiting.Count <= limits.Waiting)
            return [];
        var index = Math.Max(0, waiting.FindIndex(one => !Urgency.IsHazard(one.Event)));
        leftOut++;
        return [GivenUp(Remove(index), "too many were waiting")];
    }

    /// <summary>Gives up what is too old to be told.</summary>
    public IReadOnlyList<OutboxRow> Expire(DateTimeOffset now)
    {
        var old = waiting.Where(row => now - row.Event.At > limits.GiveUpAfter).ToList();
        waiting.RemoveAll(old.Contains);
        leftOut += old.Count;
        return [.. old.Select(row => GivenUp(row, row.Why is { } why ? $"too old; last: {why}" : "too old"))];
    }

    /// <summary>What to send now; null: nothing before <paramref name="due"/>.</summary>
    /// <param name="due">Null: nothing waits.</param>
    public Sending? Next(DateTimeOffset now, out DateTimeOffset? due)
    {
        due = waiting.Count == 0 ? null : notBefore > now ? notBefore : now;
        if (waiting.Count == 0 || now < notBefore)
            return null;
        if (waiting.Exists(row => Urgency.IsHazard(row.Event)))
            return new([First(row => Urgency.IsHazard(row.Event))], 0);
        while (sent.Count > 0 && now - sent.Peek() >= limits.Within)
            sent.Dequeue();
        if (combines && sent.Count >= limits.Messages)
        {
            wasHeldBack = true;
            due = sent.Peek() + limits.Within;
            return null;
        }
        return combines && (wasHeldBack || leftOut > 0) ? new([.. waiting], leftOut) : new([First(_ => true)], 0);
    }

    /// <summary>The first row of each alarm that has such a row; of these the one that was tried least, so that no notice blocks the others.</summary>
    OutboxRow First(Func<OutboxRow, bool> condition) => waiting.GroupBy(row => row.Event.Name).Where(rows => rows.Any(condition))
        .Select(rows => rows.First()).MinBy(row => row.Attempts)!;

    /// <summary>How the sending went.</summary>
    /// <returns>Its rows in their new state.</returns>
    public IReadOnlyList<OutboxRow> Done(Sending sending, TellingOutcome outcome, DateTimeOffset now)
    {
        switch (outcome)
        {
            case TellingOutcome.TryAgain again:
                wasAskedToWait = again.After != null;
                notBefore = now + (again.After is { } asked ? Shorter(asked, limits.LongestAskedWait) : backoff.Delay(failures, unitRandom()));
                failures++;
                return Replace(sending, row => row with { NextAttempt = notBefore, Why = again.Why });
            case TellingOutcome.Never never:
                isGone = never.IsGone;
                var unsent = End(sending, TellingState.GivenUp, never.Why);
                return isGone ? [.. unsent, .. Empty(never.Why)] : unsent;
            default:
                (failures, wasAskedToWait, notBefore) = (0, false, DateTimeOffset.MinValue);
                sent.Enqueue(now);
                if (sending.Rows.Count > 1 || sending.LeftOut > 0)
                    (wasHeldBack, leftOut) = (false, leftOut - sending.LeftOut);
                return End(sending, TellingState.Delivered, null);
        }
    }

    IReadOnlyList<OutboxRow> Replace(Sending sending, Func<OutboxRow, OutboxRow> change)
    {
        var changed = sending.Rows.Select(row => change(row) with { Attempts = row.Attempts + 1 }).ToList();
        foreach (var row in changed)
            if (waiting.FindIndex(one => one.Key == row.Key) is var index and >= 0)
                waiting[index] = row;
        return changed;
    }

    IReadOnlyList<OutboxRow> End(Sending sending, TellingState state, string? why)
    {
        var ended = sending.Rows.Select(row => row with { State = state, Why = why, NextAttempt = null, Attempts = row.Attempts + 1 }).ToList();
        waiting.RemoveAll(row => ended.Exists(one => one.Key == row.Key));
        if (waiting.Count == 0)
            wasHeldBack = false;
        return ended;
    }

    List<OutboxRow> Empty(string why)
    {
        var rest = waiting.Select(row => GivenUp(row, why)).ToList();
        waiting.Clear();
        return rest;
    }

    OutboxRow Remove(int index)
    {
        var row = waiting[index];
        waiting.RemoveAt(index);
        return row;
    }

    static OutboxRow GivenUp(OutboxRow row, string why) => row with { State = TellingState.GivenUp, Why = why, NextAttempt = null };

    static TimeSpan Shorter(TimeSpan one, TimeSpan other) => one < other ? one : other;
}
