using Farberth.Monitoring.Words;

namespace Farberth.Service.Loop;

/// <summary>What became of what somebody asked for.</summary>
public enum AnswerKind
{
    /// <summary>It is on disk, and the monitor has done it.</summary>
    Done,

    /// <summary>What was asked is not whole, or out of bounds.</summary>
    Wrong,

    /// <summary>There is no such alarm or slip.</summary>
    Unknown,

    /// <summary>The monitor does not allow it as things stand.</summary>
    NotAllowed,

    /// <summary>It cannot be kept now, so it was not done: the disk takes nothing, or too much waits.</summary>
    NotNow,

    /// <summary>It is on disk and will be heard; what the monitor says to it has not been waited for.</summary>
    Taken,
}

/// <param name="Why">Where it was not simply done.</param>
public sealed record Answer(AnswerKind Kind, Sentence? Why = null)
{
    public static readonly Answer Done = new(AnswerKind.Done);

    public bool IsDone => Kind is AnswerKind.Done or AnswerKind.Taken;
}
