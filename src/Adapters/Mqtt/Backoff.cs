namespace Farberth.Adapters.Mqtt;

/// <summary>How long to wait before trying again: doubled each time, up to a longest wait.</summary>
/// <param name="First">Before the second attempt, at most.</param>
/// <param name="Longest">Never wait longer.</param>
public sealed record Backoff(TimeSpan First, TimeSpan Longest)
{
    public static readonly Backoff Usual = new(TimeSpan.FromSeconds(1), TimeSpan.FromMinutes(1));

    /// <summary>
    /// Between half of the wait and the whole of it, so that many clients that lost one broker do not all come back at
    /// once.
    /// </summary>
    /// <param name="failures">Attempts that failed before this wait, less one: 0 for the first wait.</param>
    /// <param name="unitRandom">0 to 1.</param>
    public TimeSpan Delay(int failures, double unitRandom)
    {
        var wholeSeconds = Math.Min(Longest.TotalSeconds, First.TotalSeconds * Math.Pow(2, failures));
        return TimeSpan.FromSeconds(wholeSeconds * (1 + unitRandom) / 2);
    }
}
