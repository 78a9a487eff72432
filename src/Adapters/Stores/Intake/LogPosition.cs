namespace Farberth.Adapters.Stores.Intake;

/// <summary>A place between two messages of a log: bytes since the log was first begun. It only grows, also over restarts.</summary>
public readonly record struct LogPosition(long Offset) : IComparable<LogPosition>
{
    public static readonly LogPosition Beginning;

    public int CompareTo(LogPosition other) => Offset.CompareTo(other.Offset);

    public static bool operator <(LogPosition a, LogPosition b) => a.Offset < b.Offset;
    public static bool operator >(LogPosition a, LogPosition b) => a.Offset > b.Offset;
    public static bool operator <=(LogPosition a, LogPosition b) => a.Offset <= b.Offset;
    public static bool operator >=(LogPosition a, LogPosition b) => a.Offset >= b.Offset;
    public static LogPosition operator +(LogPosition a, long bytes) => new(a.Offset + bytes);

    public static LogPosition Later(LogPosition a, LogPosition b) => a > b ? a : b;

    public override string ToString() => Offset.ToString(System.Globalization.CultureInfo.InvariantCulture);
}
