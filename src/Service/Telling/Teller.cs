using System.Collections.Concurrent;
using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telling;
using Microsoft.Extensions.Hosting;
using Serilog;

namespace Farberth.Service.Telling;

/// <summary>What a person is told of some events.</summary>
/// <param name="leftOut">Of more than these nothing is left but their number.</param>
public delegate Notice Wording(Contact to, IReadOnlyList<JournalEvent> events, int leftOut);

/// <summary>
/// Tells people what is to be told: one lane a person and channel, all lanes at once, each one message at a time. The only place that
/// tries again. What has become of each row is handed on, for the journal.
/// </summary>
public sealed class Teller(
    IReadOnlyList<INotifier> notifiers, Wording words, ContactBook contacts, TellingLimits limits, TimeProvider clock, ILogger log,
    Backoff? backoff = null, Func<double>? unitRandom = null) : BackgroundService
{
    /// <summary>Notices under way at a time on one channel: a mail server takes only so many connections (assumed). Hazards do not queue for it.</summary>
    const int AtOnce = 4;

    static readonly TimeSpan FinishWithin = TimeSpan.FromSeconds(2);

    readonly ConcurrentDictionary<(string Contact, Address Address), Desk> desks = new();

    /// <summary>First nothing new is begun; what is under way is cut off only when there is no time left: it might be told twice.</summary>
    readonly CancellationTokenSource closing = new(), cutOff = new();
    readonly Dictionary<Channel, SemaphoreSlim> turns = notifiers.ToDictionary(notifier => notifier.Channel, _ => new SemaphoreSlim(AtOnce));

    /// <summary>Rows in their new state. Set before the first row is taken.</summary>
    public Action<IReadOnlyList<OutboxRow>> Told { get; set; } = _ => { };

    /// <summary>Rows that wait for their turn, or for an address that answers.</summary>
    public int Waiting => desks.Values.Sum(desk => desk.Count);

    /// <summary>Takes rows in, each once.</summary>
    public void Take(IReadOnlyList<OutboxRow> rows)
    {
        foreach (var row in rows)
            if (contacts.Find(row.Contact, row.Channel) is not { } address)
                GiveUp(row, "nobody of that name has such an address now");
            else if (notifiers.FirstOrDefault(one => one.Channel == row.Channel) is not { } notifier)
                GiveUp(row, "that channel is not set up");
            else
                desks.GetOrAdd((row.Contact, address), key => Open(key.Contact, key.Address, notifier)).Take(row);
    }

    public override async Task StopAsync(CancellationToken cancellationToken)
    {
        await closing.CancelAsync().ConfigureAwait(false);
        await Task.WhenAll(desks.Values.Select(desk => desk.Running)).WaitAsync(FinishWithin, clock, cancellationToken)
            .ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        await cutOff.CancelAsync().ConfigureAwait(false);
        await base.StopAsync(cancellationToken).ConfigureAwait(false);
    }

    public override void Dispose()
    {
        closing.Cancel();
        cutOff.Cancel();
        foreach (var notifier in notifiers.OfType<IDisposable>())
            notifier.Dispose();
        base.Dispose();
        GC.SuppressFinalize(this);
    }

    protected override Task ExecuteAsync(CancellationToken stoppingToken) => Task.CompletedTask;

    Desk Open(string contact, Address address, INotifier notifier)
    {
        var lane = new Lane(notifier.IsForReading, limits, backoff ?? Backoff.Usual, unitRandom ?? Random.Shared.NextDouble);
        return new(lane, sending => Send(sending, contact, address, notifier), Report, clock, closing.Token);
    }

    async Task<TellingOutcome> Send(Sending sending, string contact, Address address, INotifier notifier)
    {
        List<JournalEvent> events = [.. sending.Rows.Select(row => row.Event)];
        if (events.Exists(Urgency.IsHazard))
            return await Try(sending, events, contact, address, notifier).ConfigureAwait(false);
        var turn = turns[notifier.Channel];
        await turn.WaitAsync(closing.Token).ConfigureAwait(false);
        try
        {
            return await Try(sending, events, contact, address, notifier).ConfigureAwait(false);
        }
        finally
        {
            turn.Release();
        }
    }

    async Task<TellingOutcome> Try(Sending sending, List<JournalEvent> events, string contact, Address address, INotifier notifier)
    {
        // He has said that he wants nothing more, or has left, since it began to wait.
        if (contacts.Find(contact) is not { } known)
            return new TellingOutcome.Never("nobody of that name is told anything now");
        try
        {
            var outcome = await notifier.Tell(words(known, events, sending.LeftOut), address, cutOff.Token).ConfigureAwait(false);
            if (outcome is not TellingOutcome.Delivered)
                log.Warning("{Contact} is not reached by {Channel}: {Outcome}", contact, notifier.Channel, outcome);
            return outcome;
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            // A fault of this program; the next alarm has to be told all the same.
            log.Error(e, "Telling {Contact} by {Channel} failed", contact, notifier.Channel);
            return new TellingOutcome.TryAgain(e.GetType().Name);
        }
    }

    void Report(IReadOnlyList<OutboxRow> rows)
    {
        foreach (var row in rows.Where(row => row.State == TellingState.GivenUp))
            log.Error("Given up: {Contact} was not told by {Channel} of {Event}: {Why}", row.Contact, row.Channel, row.Event.Key, row.Why);
        if (rows.Count > 0)
            Told(rows);
    }

    void GiveUp(OutboxRow row, string why) => Report([row with { State = TellingState.GivenUp, Why = why }]);
}
