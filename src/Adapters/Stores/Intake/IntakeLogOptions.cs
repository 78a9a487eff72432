namespace Farberth.Adapters.Stores.Intake;

/// <param name="SegmentBytes">A segment that has reached this is closed, and the next batch begins a new one.</param>
/// <param name="MostBytes">On disk. When the next batch would go past it, the oldest segment goes, read or not.</param>
public sealed record IntakeLogOptions(long SegmentBytes = 16L << 20, long MostBytes = 4L << 30)
{
    public static readonly IntakeLogOptions Usual = new();
}

/// <summary>What became of a batch.</summary>
/// <param name="End">Where the log ends now; a batch that is durable ends there.</param>
/// <param name="Problem">Null: every message of the batch is on disk. Else what the disk said, and none of it is in the log.</param>
public readonly record struct Appended(LogPosition End, string? Problem = null)
{
    public bool IsDurable => Problem is null;
}
