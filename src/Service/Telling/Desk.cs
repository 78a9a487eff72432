using Farberth.Monitoring.Ports;

namespace Farberth.Service.Telling;

/// <summary>A lane at work: it sends what is due, and else waits for the next row or the next time.</summary>
sealed class Desk
{
    readonly Lane lane;
    readonly Func<Sending, Task<TellingOutcome>> send;
    readonly Action<IReadOnlyList<OutboxRow>> report;
    readonly TimeProvider clock;
    readonly CancellationToken stop;
    readonly Lock gate = new();
    readonly Signal more;

    public Desk(
        Lane lane, Func<Sending, Task<TellingOutcome>> send, Action<IReadOnlyList<OutboxRow>> report, TimeProvider clock, CancellationToken stop)
    {
        (this.lane, this.send, this.report, this.clock, this.stop) = (lane, send, report, clock, stop);
        more = new(clock);
        Running = Task.Run(Run, CancellationToken.None);
    }

    /// <summary>Ends when it is told to stop.</summary>
    public Task Running { get; }

    public int Count
    {
        get
        {
            lock (gate)
                return lane.Count;
        }
    }

    public void Take(OutboxRow row)
    {
        IReadOnlyList<OutboxRow> givenUp;
        lock (gate)
            givenUp = lane.Take(row);
        report(givenUp);
        more.Set();
    }

    async Task Run()
    {
        try
        {
            while (true)
            {
                var (sending, due) = Next();
                stop.ThrowIfCancellationRequested();
                if (sending != null)
                    report(Done(sending, await send(sending).ConfigureAwait(false)));
                else
                    await more.Until(due, stop).ConfigureAwait(false);
            }
        }
        catch (OperationCanceledException)
        {
            // What still waits is in the journal.
        }
    }

    (Sending? Sending, DateTimeOffset? Due) Next()
    {
        var now = clock.GetUtcNow();
        IReadOnlyList<OutboxRow> expired;
        Sending? sending;
        DateTimeOffset? due;
        lock (gate)
        {
            expired = lane.Expire(now);
            sending = lane.Next(now, out due);
        }
        report(expired);
        return (sending, due);
    }

    IReadOnlyList<OutboxRow> Done(Sending sending, TellingOutcome outcome)
    {
        lock (gate)
            return lane.Done(sending, outcome, clock.GetUtcNow());
    }
}
