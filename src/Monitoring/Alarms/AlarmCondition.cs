using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Alarms;

/// <summary>
/// Whether an alarm's condition holds: from when its findings have been past the limit for the raise delay until they have been
/// back within it, by the deadband, for the clear delay. It goes on through every state that the alarm may be in.
/// </summary>
sealed class AlarmCondition
{
    DateTimeOffset? pastSince;
    DateTimeOffset? backSince;
    bool waitsFully;

    public bool Holds { get; private set; }

    public bool IsIdle => !Holds && pastSince == null;

    /// <summary>When its raise delay ends; null: none runs.</summary>
    public DateTimeOffset? RaisesAt(AlarmTiming timing) => Holds ? null : pastSince + timing.RaiseAfter;

    /// <param name="mayBegin">False: it may not begin to hold now, but time runs.</param>
    public void Take(Finding finding, AlarmTiming timing, TimeSpan clearAfter, bool mayBegin, DateTimeOffset now)
    {
        pastSince = finding.IsPast ? pastSince ?? now : null;
        backSince = finding.Margin <= -timing.Deadband && !finding.IsPast ? backSince ?? now : null;
        waitsFully &= finding.IsPast;
        Holds = Holds
            ? backSince == null || now - backSince < clearAfter
            : mayBegin && pastSince != null && ((finding.AtOnce && !waitsFully) || now - pastSince >= timing.RaiseAfter);
    }

    /// <summary>Begins anew: what is still past its limit must be so for the whole raise delay from now.</summary>
    public void Restart(DateTimeOffset now)
    {
        (Holds, waitsFully) = (false, true);
        pastSince = pastSince == null ? null : now;
    }

    public ConditionMemory Memory() => new(Holds, pastSince, backSince, waitsFully);

    public void Resume(ConditionMemory memory) =>
        (Holds, pastSince, backSince, waitsFully) = (memory.Holds, memory.PastSince, memory.BackSince, memory.WaitsFully);
}

sealed record ConditionMemory(bool Holds, DateTimeOffset? PastSince, DateTimeOffset? BackSince, bool WaitsFully);
