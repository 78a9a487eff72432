using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Telemetry;
using Serilog;

namespace Farberth.Service.LongHistory;

/// <summary>
/// What the service itself says, kept for the long history: every step of an alarm, and each dock's state once in ten
/// seconds. In a log of its own, so that a database that is away costs nothing of it. The history is made for looking
/// back; where the disk takes none of it, that is counted, said once, and watching goes on.
/// </summary>
sealed class Told(IntakeLog kept, string site, ILogger log)
{
    const int SecondsBetweenStates = 10;

    readonly string prefix = $"farberth/v1/{site}/";
    long failures;

    /// <summary>Messages that the disk did not take.</summary>
    public long Failures => Volatile.Read(ref failures);

    /// <param name="at">The tick; at the same ticks the same is kept, so that a replay brings nothing new.</param>
    public void Take(DateTimeOffset at, IEnumerable<WireMessage> messages)
    {
        var batch = messages.Where(message => IsKept(at, message.Topic)).Select(message => new RecordedMessage(at, message)).ToList();
        if (kept.Append(batch) is not { Problem: { } problem })
            return;
        if (Interlocked.Add(ref failures, batch.Count) == batch.Count)
            log.Error("The disk takes no states for the long history: {Problem}", problem);
    }

    bool IsKept(DateTimeOffset at, string topic) =>
        topic.StartsWith(prefix, StringComparison.Ordinal) && topic[prefix.Length..].Split('/') switch
        {
            ["dock", _, "state"] => at.Second % SecondsBetweenStates == 0,
            ["alarm", _] => true,
            _ => false,
        };
}
