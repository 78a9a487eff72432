using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Service.Journaling;

/// <summary>Something to be written down, and what may go out once it is.</summary>
/// <param name="Messages">For the broker.</param>
/// <param name="NotAfter">When its messages and rows go out, written down or not.</param>
sealed record Kept(JournalBatch Part, IReadOnlyList<WireMessage> Messages, DateTimeOffset NotAfter)
{
    public static JournalBatch Together(IReadOnlyList<Kept> all) => new()
    {
        Entries = [.. all.SelectMany(kept => kept.Part.Entries)],
        Told = [.. all.SelectMany(kept => kept.Part.Told)],
        Refusals = [.. all.SelectMany(kept => kept.Part.Refusals)],
    };

    /// <summary>Whom it is to be told, without what the journal knew before: that was told, or waits there.</summary>
    public IReadOnlyList<OutboxRow> Rows(IReadOnlySet<string> alreadyThere) =>
        [.. Part.Entries.Where(entry => !alreadyThere.Contains(entry.Event.Key)).SelectMany(entry => entry.Tell)];
}
