namespace Farberth.Monitoring.Ports;

public enum TellingState
{
    Waiting,
    Delivered,
    GivenUp,
}

/// <summary>One event to be told to one person on one channel.</summary>
/// <param name="Contact">The person's name.</param>
public sealed record OutboxRow(JournalEvent Event, string Contact, Channel Channel)
{
    public TellingState State { get; init; } = TellingState.Waiting;

    public int Attempts { get; init; }

    /// <summary>Not before; null: at once.</summary>
    public DateTimeOffset? NextAttempt { get; init; }

    /// <summary>How the last attempt ended, where it did not end well.</summary>
    public string? Why { get; init; }

    /// <summary>The same for the same telling, in every run.</summary>
    public (string, string, Channel) Key => (Event.Key, Contact, Channel);
}
