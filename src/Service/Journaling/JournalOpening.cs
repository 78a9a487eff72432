using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;

namespace Farberth.Service.Journaling;

/// <summary>What is done once with the journal when it is first reached: what is in force is written down, what an earlier run left is read.</summary>
/// <param name="Standing">Alarms that an earlier run has left.</param>
/// <param name="Waiting">What it had not told yet.</param>
sealed record JournalOpening(IReadOnlyList<AlarmTransition> Standing, IReadOnlyList<OutboxRow> Waiting, IReadOnlyList<Contact> Contacts)
{
    const int MostWaiting = 10_000;

    /// <param name="people">Of the file of settings, in place of those an earlier file had.</param>
    /// <exception cref="JournalException">The journal is away, or newer than this program.</exception>
    public static JournalOpening Of(IJournal journal, IReadOnlyList<Contact> people, SiteFileVersion? siteFile)
    {
        foreach (var gone in journal.Contacts().Where(known => known.Origin == ContactOrigin.File && people.All(one => one.Name != known.Name)))
            journal.Remove(gone.Name);
        foreach (var contact in people)
            journal.Keep(contact);
        if (siteFile != null)
            journal.Keep(siteFile);
        return new(journal.Standing(), journal.Waiting(MostWaiting), journal.Contacts());
    }
}
