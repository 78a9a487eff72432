using Farberth.Adapters.Stores.Embedded;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Service.Tests.Journaling;

/// <summary>A journal of SQLite that is away, hangs or refuses as a test wants.</summary>
sealed class StubbornJournal(string path) : IJournal
{
    readonly SqliteJournal journal = new(path, "fourposts");

    public bool IsAway { get; set; }

    /// <summary>Reset, it does not answer.</summary>
    public ManualResetEventSlim Answers { get; } = new(true);

    public Func<JournalEntry, bool> Refuses { get; set; } = _ => false;

    public IReadOnlyList<string> Written => [.. journal.History(new()).Events.Select(happened => happened.Name).Reverse()];

    public JournalWritten Write(JournalBatch batch)
    {
        Answer();
        return batch.Entries.Any(Refuses) ? throw new JournalException(JournalFailure.Refused, "not that one") : journal.Write(batch);
    }

    public IReadOnlyList<AlarmTransition> Standing() => Answer().Standing();

    public IReadOnlyList<JournalEvent> InForce(DateTimeOffset before) => Answer().InForce(before);

    public JournalPage History(JournalQuery query) => Answer().History(query);

    public IReadOnlyList<OutboxRow> Waiting(int limit) => Answer().Waiting(limit);

    public IReadOnlyList<Contact> Contacts() => Answer().Contacts();

    public void Keep(Contact contact) => Answer().Keep(contact);

    public void Remove(string contact) => Answer().Remove(contact);

    public void Keep(SiteFileVersion version) => Answer().Keep(version);

    public IReadOnlyList<SiteFileVersion> SiteFiles(int limit) => Answer().SiteFiles(limit);

    public IReadOnlyDictionary<RefusalReason, RefusalTally> Refusals() => Answer().Refusals();

    public int Forget(DateTimeOffset before) => Answer().Forget(before);

    public void Dispose()
    {
        Answers.Dispose();
        journal.Dispose();
    }

    SqliteJournal Answer()
    {
        Answers.Wait(TestContext.Current.CancellationToken);
        return IsAway ? throw new JournalException(JournalFailure.Away, "the test has taken it away") : journal;
    }
}
