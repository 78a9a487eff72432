namespace Farberth.Adapters.Stores.Intake;

/// <summary>How far each reader of a log has come, and no message kept that all of them have passed.</summary>
public sealed class LogCursors(IntakeLog log)
{
    readonly Lock gate = new();
    readonly Dictionary<string, LogPosition> positions = [];

    /// <summary>Bytes of the log that not every reader has passed.</summary>
    public long Unread
    {
        get
        {
            lock (gate)
                return positions.Count == 0 ? 0 : Math.Max(0, log.End.Offset - positions.Values.Min().Offset);
        }
    }

    /// <summary>A reader that will move on from this position. All of them must be known before the first one moves.</summary>
    public void Add(string reader, LogPosition position)
    {
        lock (gate)
            positions.Add(reader, position);
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
