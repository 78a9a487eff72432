namespace Farberth.Adapters.Stores.Intake;

/// <summary>How far each reader of a log has come, and no message kept that all of them have passed.</summary>
public sealed class LogCursors(IntakeLog log)
{
    readonly Lock gate = new();
    readonly Dictionary<string, LogPosition> positions = [];

    /// <summary>Those that carry messages elsewhere.</summary>
    readonly HashSet<string> carriers = [];

    /// <summary>Bytes of the log that are not yet everywhere they are carried to.</summary>
    public long Unread
    {
        get
        {
            lock (gate)
                return carriers.Count == 0 ? 0 : Math.Max(0, log.End.Offset - carriers.Min(carrier => positions[carrier].Offset));
        }
    }

    /// <summary>A reader that will move on from this position. All of them must be known before the first one moves.</summary>
    /// <param name="isCarrier">It carries messages elsewhere; else it keeps them for a restart alone.</param>
    public void Add(string reader, LogPosition position, bool isCarrier = true)
    {
        lock (gate)
        {
            positions.Add(reader, position);
            if (isCarrier)
                carriers.Add(reader);
        }
    }

    /// <summary>The reader has what lies before this position where it survives a crash.</summary>
    public void Move(string reader, LogPosition position)
    {
        LogPosition passedByAll;
        lock (gate)
        {
            positions[reader] = position;
            passedByAll = positions.Values.Min();
        }
        log.Trim(passedByAll);
    }
}
