using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Ports;

/// <summary>
/// What must not be forgotten about one site: every step of every alarm, what was asked of whom, who is to be told and whether he has
/// been. Every call may throw <see cref="JournalException"/>; nothing of a call that threw is in the journal, unless the connection was
/// lost while it committed: then it may be, and writing it again changes nothing.
/// </summary>
public interface IJournal : IDisposable
{
    /// <summary>One transaction, durable on return: all of it, or nothing.</summary>
    JournalWritten Write(JournalBatch batch);

    /// <summary>The latest step of every alarm that is not normal, by alarm id.</summary>
    IReadOnlyList<AlarmTransition> Standing();

    /// <summary>What was in force just before a moment: the last step of every alarm that was not normal, and what was asked of each slip.</summary>
    IReadOnlyList<JournalEvent> InForce(DateTimeOffset before);

    /// <summary>What happened, the latest first, a page at a time.</summary>
    JournalPage History(JournalQuery query);

    /// <summary>What is still to be told, in the order in which it happened.</summary>
    /// <param name="limit">At most so many.</param>
    IReadOnlyList<OutboxRow> Waiting(int limit);

    /// <summary>Everybody who may be told something, by name.</summary>
    IReadOnlyList<Contact> Contacts();

    /// <summary>Adds a contact, or replaces the one of that name.</summary>
    void Keep(Contact contact);

    /// <summary>Takes a contact out; one that is not there is no error.</summary>
    void Remove(string contact);

    /// <summary>Writes down that a site file was put to use, unless it is the one in use already.</summary>
    void Keep(SiteFileVersion version);

    /// <summary>The site files that were in use, the latest first.</summary>
    IReadOnlyList<SiteFileVersion> SiteFiles(int limit);

    /// <summary>What was refused since the journal began.</summary>
    IReadOnlyDictionary<RefusalReason, RefusalTally> Refusals();

    /// <summary>Forgets what happened before a moment. What stands, and what is still to be told, stays.</summary>
    /// <returns>How many events were forgotten.</returns>
    int Forget(DateTimeOffset before);
}
