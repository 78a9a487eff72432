namespace Farberth.Adapters.Stores.InfluxDb;

/// <summary>What the server made of one request, by what is to be done next.</summary>
public enum WriteStatus
{
    Accepted,

    /// <summary>No connection or no answer. Send again; it may have died with what it had confirmed.</summary>
    Away,

    /// <summary>It answered and cannot now (429, 5xx). Send again.</summary>
    Busy,

    /// <summary>At least one of the lines is not taken (400, 413, 422). Sending them again does not help.</summary>
    BadLines,

    /// <summary>No line is at fault: token, bucket or address (other 4xx). Send again; somebody has to change something.</summary>
    Refused,
}

/// <param name="Problem">In words; empty when accepted.</param>
/// <param name="RetryAfter">What the server asked for.</param>
public readonly record struct WriteOutcome(WriteStatus Status, string Problem = "", TimeSpan? RetryAfter = null);
