using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Telemetry;
using Serilog;

namespace Farberth.Service.LongHistory;

/// <summary>
/// What the service itself says, kept for the long history: every step of an alarm, and each dock's state once in ten
/// seconds. In a log of its own, so that a database that is away costs nothing of it. The history is made for looking
/// back; where the disk takes none of it, that is said and counted, and watching goes on.
/// </summary>
sealed class Told(IntakeLog kept, string site, ILogger log)
{
    const int SecondsBetweenStates = 10;

    readonly string prefix = $"farberth/v1/{site}/";
    string? problem;

    /// <summary>False where the disk begins not to take it.</summary>
    /// <param name="at">The tick; at the same ticks the same is kept, so that a replay brings nothing new.</param>
    public bool Take(DateTimeOffset at, IEnumerable<WireMessage> messages)
    {
        var batch = messages.Where(message => IsKept(at, message.Topic)).Select(message => new RecordedMessage(at, message)).ToList();
        if (batch.Count == 0)
            return true;
        var before = problem;
        problem = kept.Append(batch).Problem;
        if (problem is not null && before is null)
            log.Error("The disk takes no states for the long history: {Problem}", problem);
        return problem is null || before is not null;
    }

    bool IsKept(DateTimeOffset at, string topic) =>
        topic.StartsWith(prefix, StringComparison.Ordinal) && topic[prefix.Length..].Split('/') switch
        {
            ["dock", _, "state"] => at.Second % SecondsBetweenStates == 0,
            ["alarm", _] => true,
            _ => false,
        };
}
