using Farberth.Monitoring.Ports;

namespace Farberth.Service.Journaling;

/// <summary>What the keeper of the journal needs to be told.</summary>
/// <param name="Journal">Null: none is kept, and everything goes out at once.</param>
/// <param name="People">From the file of settings.</param>
/// <param name="SiteFile">The site file in use; null: it is not written down.</param>
public sealed record JournalSetup(IJournal? Journal, IReadOnlyList<Contact> People, SiteFileVersion? SiteFile)
{
    public JournalPatience Patience { get; init; } = JournalPatience.Usual;
}
