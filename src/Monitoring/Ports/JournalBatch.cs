using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Ports;

/// <summary>What is written together: all of it or nothing.</summary>
public sealed record JournalBatch
{
    public IReadOnlyList<JournalEntry> Entries { get; init; } = [];

    /// <summary>How it went with what was to be told: rows of this journal in their new state. One that is not there is left out.</summary>
    public IReadOnlyList<OutboxRow> Told { get; init; } = [];

    public IReadOnlyList<RefusalsMore> Refusals { get; init; } = [];
}

/// <summary>An event and whom it is to be told. An event that is in the journal already is left as it is, and nobody is told again.</summary>
public sealed record JournalEntry(JournalEvent Event, IReadOnlyList<OutboxRow> Tell);

/// <summary>Refusals for one reason since the last writing.</summary>
public sealed record RefusalsMore(RefusalReason Reason, long Count, Refusal Last);

/// <param name="AlreadyThere">Keys of the batch's events that the journal had before.</param>
public sealed record JournalWritten(IReadOnlySet<string> AlreadyThere);

/// <summary>A site file that was in use.</summary>
/// <param name="Sha256">Of the text in UTF-8, lower-case hexadecimal.</param>
public sealed record SiteFileVersion(string Text, string Sha256, DateTimeOffset AppliedAt);
