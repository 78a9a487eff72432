namespace Farberth.Service.Journaling;

/// <summary>How the journal does.</summary>
/// <param name="Away">Why it is not reached; null: it is.</param>
/// <param name="Waiting">Parts not written down yet.</param>
/// <param name="ToldFirst">Events that people were told before they were written down, since the start.</param>
/// <param name="Lost">Parts that will never be written down, since the start.</param>
public sealed record JournalState(string? Away, int Waiting, long ToldFirst, long Lost);
