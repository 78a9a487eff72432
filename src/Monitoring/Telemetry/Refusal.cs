namespace Farberth.Monitoring.Telemetry;

/// <summary>Why a message, or a part of one, was not taken.</summary>
public enum RefusalReason
{
    NotJson,
    TooLarge,
    UnknownTopic,
    UnknownPedestal,
    UnknownOutlet,
    UnknownLeg,
    UnknownSlip,
    NotFinite,
    Negative,
    VoltsTooHigh,
    TimeAhead,
    Missing,
    WrongType,
    OutOfRange,
    UnknownAlarm,
    NotAllowed,
}

/// <summary>One fault of one message.</summary>
/// <param name="At">When it was refused, by the service's clock.</param>
/// <param name="Topic">At most <see cref="LongestText"/> characters of the message's topic.</param>
/// <param name="Detail">What is wrong and where in the message, in words.</param>
/// <param name="Excerpt">The first bytes of the payload, at most <see cref="ExcerptBytes"/>, in memory of their own.</param>
public sealed record Refusal(
    DateTimeOffset At, RefusalReason Reason, string Topic, string Detail, ReadOnlyMemory<byte> Excerpt)
{
    public const int ExcerptBytes = 256;
    public const int LongestText = 256;

    /// <summary>At most <see cref="LongestText"/> characters of a text.</summary>
    public static string Cut(string text) => text.Length <= LongestText ? text : text[..(LongestText - 1)] + "…";
}
