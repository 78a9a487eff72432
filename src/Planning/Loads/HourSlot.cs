namespace Farberth.Planning.Loads;

/// <summary>One hour of a plan.</summary>
/// <param name="Local">Its beginning at the marina.</param>
public sealed record HourSlot(DateTimeOffset Start, DateTime Local, double Celsius)
{
    static readonly TimeSpan Length = TimeSpan.FromHours(1);

    public DateTimeOffset End => Start + Length;

    /// <summary>The whole hours that a span of time touches.</summary>
    public static IReadOnlyList<HourSlot> Between(DateTimeOffset from, DateTimeOffset until, TimeZoneInfo zone, Outdoor outdoor)
    {
        var slots = new List<HourSlot>();
        for (var start = new DateTimeOffset(from.UtcTicks - from.UtcTicks % Length.Ticks, TimeSpan.Zero); start < until; start += Length)
        {
            var local = TimeZoneInfo.ConvertTime(start, zone).DateTime;
            slots.Add(new(start, local, outdoor.At(local)));
        }
        return slots;
    }

    public bool Overlaps(DateTimeOffset from, DateTimeOffset until) => from < End && Start < until;
}
