namespace Farberth.Service.Journaling;

/// <summary>How long what happened waits for the journal before people are told. Figures assumed; docs/decisions/0014-journal-then-tell.md says why.</summary>
public sealed record JournalPatience
{
    public static readonly JournalPatience Usual = new();

    /// <summary>A hazard: one tick.</summary>
    public TimeSpan Hazard { get; init; } = TimeSpan.FromSeconds(1);

    public TimeSpan Other { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>Parts that wait for a journal that is away: some hours of a busy site.</summary>
    public int Capacity { get; init; } = 10_000;
}
