using Farberth.Monitoring.Telling;

namespace Farberth.Monitoring.Ports;

/// <summary>One way to reach people. It tries once, within a time of its own; whoever calls decides about trying again.</summary>
public interface INotifier
{
    Channel Channel { get; }

    /// <summary>Several events may go into one notice, where a person reads them; a machine gets each by itself.</summary>
    bool IsForReading { get; }

    /// <summary>Never throws but for the cancellation.</summary>
    ValueTask<TellingOutcome> Tell(Notice notice, Address address, CancellationToken cancel);
}

/// <summary>How an attempt to tell somebody ended.</summary>
public abstract record TellingOutcome
{
    /// <summary>The next server has taken it; whether somebody reads it, nobody knows.</summary>
    public sealed record Delivered : TellingOutcome;

    /// <param name="Why">Without secrets.</param>
    /// <param name="After">The wait that the other side asked for.</param>
    public sealed record TryAgain(string Why, TimeSpan? After = null) : TellingOutcome;

    /// <param name="Why">Without secrets.</param>
    /// <param name="IsGone">Nobody is reached at that address any more; else only this notice is not taken.</param>
    public sealed record Never(string Why, bool IsGone = false) : TellingOutcome;
}
