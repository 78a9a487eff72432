namespace Farberth.Monitoring.Ports;

/// <summary>Which events are asked for; what is null is not asked about.</summary>
public sealed record JournalQuery
{
    public const int LargestPage = 1000;

    public string? AlarmId { get; init; }

    public string? Slip { get; init; }

    public string? Dock { get; init; }

    /// <summary>At or after.</summary>
    public DateTimeOffset? From { get; init; }

    /// <summary>Before.</summary>
    public DateTimeOffset? To { get; init; }

    /// <summary>Where the page before this one ended: its <see cref="JournalPage.Next"/>.</summary>
    public long? Before { get; init; }

    /// <summary>Events a page, 1 to <see cref="LargestPage"/>; more is cut to that.</summary>
    public int Limit { get; init; } = 100;
}

/// <param name="Events">The latest first.</param>
/// <param name="Next">Where the next page begins; null: there is none.</param>
public sealed record JournalPage(IReadOnlyList<JournalEvent> Events, long? Next);
