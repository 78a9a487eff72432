using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Telling;
using Farberth.Service.Loop;
using Farberth.Service.Telling;
using Microsoft.Extensions.Hosting;
using Serilog;

namespace Farberth.Service.Journaling;

/// <summary>
/// First the journal, then the people: what a tick has brought goes out to the broker and to the notifiers once it is durable. A journal
/// that does not answer in time holds nothing back for longer than <see cref="JournalPatience"/> says; what went out is written down later.
/// </summary>
public sealed class JournalKeeper(
    JournalSetup setup, SiteDefinition site, Outbox outbox, Teller teller, ContactBook contacts, TimeProvider clock, ILogger log) : BackgroundService
{
    const int Together = 200;

    static readonly Backoff Again = new(TimeSpan.FromMilliseconds(200), TimeSpan.FromSeconds(10));
    static readonly TimeSpan AtTheEnd = TimeSpan.FromSeconds(2);
    static readonly TimeSpan ForSomebodyWaiting = TimeSpan.FromSeconds(3);

    /// <summary>Older events are forgotten (assumed).</summary>
    static readonly TimeSpan KeptFor = TimeSpan.FromDays(5 * 365);

    static readonly IReadOnlySet<string> None = new HashSet<string>();

    readonly Lock gate = new();
    readonly Lock outgoing = new();
    readonly Lock writing = new();
    readonly JournalQueue queue = new(setup.Patience.Capacity);
    readonly Recipients recipients = new(site);
    readonly RefusalDelta refusals = new();
    readonly Signal toWrite = new(clock), toWatch = new(clock);

    /// <summary>Told before the journal was first reached: an earlier run may have written the same, when its end is played again.</summary>
    readonly HashSet<(string, string, Channel)> toldEarly = [];

    DateTimeOffset nextForgetting = DateTimeOffset.MinValue;
    string? away;
    bool isOpen = setup.Journal == null;

    public JournalState State
    {
        get
        {
            lock (gate)
                return new(away, queue.Count, queue.ToldFirst, queue.Lost);
        }
    }

    /// <summary>Refusals that an earlier run has counted, and written down.</summary>
    public void Begin(IReadOnlyDictionary<RefusalReason, RefusalTally> counted) => refusals.Begin(counted);

    /// <summary>What a tick has brought, and the messages that tell the broker of it.</summary>
    public void Take(DockStep step, IReadOnlyDictionary<RefusalReason, RefusalTally> refused, IReadOnlyList<WireMessage> messages)
    {
        var more = setup.Journal == null ? [] : refusals.Take(refused, step.Now);
        Take(JournalEvent.Of(step), more, messages);
    }

    internal void Take(IReadOnlyList<JournalEvent> events, IReadOnlyList<RefusalsMore> more, IReadOnlyList<WireMessage> messages)
    {
        if (events.Count == 0 && messages.Count == 0 && more.Count == 0)
            return;
        IReadOnlyList<JournalEntry> entries;
        lock (gate)
            entries = [.. events.Select(happened => recipients.Of(happened, contacts.Value))];
        Put(new() { Entries = entries, Refusals = more }, messages, events.Any(Urgency.IsHazard) ? setup.Patience.Hazard : setup.Patience.Other);
    }

    /// <summary>What has become of rows that were to be told.</summary>
    public void Note(IReadOnlyList<OutboxRow> told) => Put(new() { Told = told }, [], setup.Patience.Other);

    /// <summary>From now on somebody more is told, or by another address.</summary>
    /// <exception cref="JournalException">The journal is away: he is not, and has to ask again.</exception>
    public void Keep(Contact contact) => Change(
        () => setup.Journal?.Keep(contact), () => contacts.Set([.. contacts.Value.Where(one => one.Name != contact.Name), contact]));

    /// <summary>Somebody is told nothing more.</summary>
    /// <exception cref="JournalException">The journal is away, and still has him; until it is read again he is told nothing all the same.</exception>
    public void Remove(string contact)
    {
        lock (outgoing)
            contacts.Set([.. contacts.Value.Where(one => one.Name != contact)]);
        Change(() => setup.Journal?.Remove(contact), () => { });
    }

    /// <summary>Not while the journal is being opened, which reads the contacts anew.</summary>
    void Change(Action inJournal, Action inBook)
    {
        if (!writing.TryEnter(ForSomebodyWaiting))
            throw new JournalException(JournalFailure.Away, "the journal does not answer");
        try
        {
            inJournal();
            lock (outgoing)
                inBook();
        }
        finally
        {
            writing.Exit();
        }
    }

    public override async Task StopAsync(CancellationToken cancellationToken)
    {
        await base.StopAsync(cancellationToken).ConfigureAwait(false);
        Task last = setup.Journal == null ? Task.CompletedTask : Task.Run(WriteAll, CancellationToken.None);
        await last.WaitAsync(AtTheEnd, clock, cancellationToken).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
    }

    /// <summary>Should one of the two fail by a fault of this program, the service ends: without either nobody is told.</summary>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        if (setup.Journal != null)
            await (await Task.WhenAny(Task.Run(() => Writing(stoppingToken), stoppingToken), Task.Run(() => Watching(stoppingToken), stoppingToken))
                .ConfigureAwait(false)).ConfigureAwait(false);
    }

    void Put(JournalBatch part, IReadOnlyList<WireMessage> messages, TimeSpan patience)
    {
        lock (outgoing)
        {
            IReadOnlyList<Kept> now;
            lock (gate)
            {
                var kept = new Kept(part, messages, clock.GetUtcNow() + (away == null ? patience : TimeSpan.Zero));
                now = setup.Journal == null ? [kept] : [.. queue.Put(kept), .. away == null ? [] : queue.Overdue(kept.NotAfter)];
            }
            GoOut(now, None);
        }
        toWrite.Set();
        toWatch.Set();
    }

    /// <summary>In the order in which it happened: whoever calls holds <see cref="outgoing"/> since before he took it from the queue.</summary>
    void GoOut(IReadOnlyList<Kept> all, IReadOnlySet<string> alreadyThere)
    {
        foreach (var kept in all)
        {
            foreach (var message in kept.Messages)
                outbox.Put(message);
            var rows = kept.Rows(alreadyThere);
            if (!isOpen && toldEarly.Count < setup.Patience.Capacity)
                toldEarly.UnionWith(rows.Select(row => row.Key));
            teller.Take(rows);
        }
    }

    async Task Writing(CancellationToken stop)
    {
        var failures = 0;
        while (true)
        {
            // Opens at once, so that what an earlier run has not told is told now.
            if (WriteAll())
            {
                failures = 0;
                await toWrite.Until(null, stop).ConfigureAwait(false);
            }
            else
                await Task.Delay(Again.Delay(failures++, 1), clock, stop).ConfigureAwait(false);
        }
    }

    /// <summary>Sees to it that nothing waits for a journal that hangs.</summary>
    async Task Watching(CancellationToken stop)
    {
        while (true)
        {
            DateTimeOffset? due;
            lock (outgoing)
            {
                IReadOnlyList<Kept> overdue;
                lock (gate)
                    (overdue, due) = (queue.Overdue(clock.GetUtcNow()), queue.Due);
                GoOut(overdue, None);
            }
            await toWatch.Until(due, stop).ConfigureAwait(false);
        }
    }

    /// <returns>All is written; false: the journal is away.</returns>
    bool WriteAll()
    {
        lock (writing)
        {
            try
            {
                if (!isOpen)
                    Open();
                for (var next = Peek(); next.Count > 0; next = Peek())
                    Write(next);
                Forget(clock.GetUtcNow());
                SetAway(null);
                return true;
            }
            catch (JournalException e)
            {
                SetAway(e.Message);
                return false;
            }
        }
    }

    /// <summary>Once a day.</summary>
    void Forget(DateTimeOffset now)
    {
        if (now < nextForgetting)
            return;
        setup.Journal!.Forget(now - KeptFor);
        nextForgetting = now.AddDays(1);
    }

    IReadOnlyList<Kept> Peek()
    {
        lock (gate)
            return queue.Peek(Together);
    }

    void Write(IReadOnlyList<Kept> all)
    {
        try
        {
            Release(all, setup.Journal!.Write(Kept.Together(all)).AlreadyThere);
        }
        catch (JournalException e) when (e.Failure == JournalFailure.Refused && all.Count > 1)
        {
            foreach (var kept in all)
                Write([kept]);
        }
        catch (JournalException e) when (e.Failure == JournalFailure.Refused)
        {
            log.Error("The journal refuses what happened, and people are told all the same: {Reason}", e.Message);
            Release(all, None);
        }
    }

    void Release(IReadOnlyList<Kept> written, IReadOnlySet<string> alreadyThere)
    {
        lock (outgoing)
        {
            IReadOnlyList<Kept> now;
            lock (gate)
                now = queue.Written(written);
            GoOut(now, alreadyThere);
        }
    }

    void Open()
    {
        var opening = JournalOpening.Of(setup.Journal!, setup.People, setup.SiteFile);
        lock (outgoing)
        {
            lock (gate)
                recipients.Restore(opening.Standing);
            contacts.Set(opening.Contacts);
            teller.Take([.. opening.Waiting.Where(row => !toldEarly.Contains(row.Key))]);
            toldEarly.Clear();
            isOpen = true;
        }
    }

    void SetAway(string? reason)
    {
        lock (outgoing)
        {
            IReadOnlyList<Kept> now;
            lock (gate)
            {
                if ((reason == null) != (away == null))
                    log.Warning(reason == null ? "The journal is back; {Count} parts wait" : "The journal is away, alarms are told without it; {Count} parts wait: {Reason}", queue.Count, reason);
                away = reason;
                now = reason == null ? [] : queue.Overdue(DateTimeOffset.MaxValue);
            }
            GoOut(now, None);
        }
    }
}
