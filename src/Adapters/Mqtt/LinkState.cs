namespace Farberth.Adapters.Mqtt;

public enum LinkPhase
{
    Connecting,
    Connected,

    /// <summary>Away for a cause that may pass: tries again by itself.</summary>
    Waiting,

    /// <summary>The broker said no, and will until somebody changes something. Tries again all the same.</summary>
    Refused,

    Closed,
}

/// <param name="Reason">Why the link is away, in words; empty while it is not.</param>
/// <param name="NextAttempt">When it tries again, UTC.</param>
public sealed record LinkState(LinkPhase Phase, string Reason = "", DateTimeOffset? NextAttempt = null);

/// <summary>What a link has counted since it was made.</summary>
/// <param name="Connections">Times it got through, subscriptions and all.</param>
/// <param name="Received">Messages put into the queue; one that came twice counts twice.</param>
/// <param name="Acknowledged">Of those, at QoS 1, confirmed to the broker.</param>
/// <param name="Cut">Of those, longer than is taken and cut to <see cref="MqttLink.LongestPayload"/>.</param>
/// <param name="Overruns">Times no place in the queue became free for so long that the link left the rest with the broker and came back later.</param>
/// <param name="Lost">Messages at QoS 0 that were under way when the link let go: no broker keeps those.</param>
/// <param name="Published">Confirmed by the broker.</param>
/// <param name="NotPublished">Not confirmed, whatever the cause.</param>
public sealed record LinkCounts(
    long Connections, long Received, long Acknowledged, long Cut, long Overruns, long Lost, long Published, long NotPublished);

public enum PublishStatus
{
    Accepted,

    /// <summary>Not connected, or no answer: may be tried again, and may then arrive twice.</summary>
    Away,

    /// <summary>The broker does not take this message: trying again does not help.</summary>
    Refused,
}

public readonly record struct PublishResult(PublishStatus Status, string Problem = "")
{
    public bool IsAccepted => Status == PublishStatus.Accepted;
}
