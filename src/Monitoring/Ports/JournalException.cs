namespace Farberth.Monitoring.Ports;

/// <summary>Why a journal did not do what it was asked.</summary>
public enum JournalFailure
{
    /// <summary>It cannot be reached, or has no room. It may come back by itself.</summary>
    Away,

    /// <summary>It is there and does not take this; the same again will be refused again.</summary>
    Refused,

    /// <summary>A later version of this program has made it.</summary>
    NewerSchema,
}

/// <summary>The journal is away, or refuses.</summary>
public sealed class JournalException(JournalFailure failure, string message, Exception? inner = null) : IOException(message, inner)
{
    public JournalFailure Failure => failure;
}
