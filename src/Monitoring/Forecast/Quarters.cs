namespace Farberth.Monitoring.Forecast;

/// <summary>
/// Time in quarter-hours: counted from the calendar's beginning in UTC, so that a day is always 96 of them. On the two days a
/// year on which clocks change, the past stands an hour off until it fades.
/// </summary>
static class Quarters
{
    public const int PerHour = 4;
    public const int PerDay = 96;

    public static readonly TimeSpan Length = TimeSpan.FromMinutes(15);

    /// <summary>How far ahead is looked, in quarters: the first hour in full, then each hour of a day.</summary>
    public static IReadOnlyList<int> Ahead { get; } = [1, 2, 3, .. Enumerable.Range(1, 24).Select(hour => hour * PerHour)];

    public static long Of(DateTimeOffset time) => time.UtcTicks / Length.Ticks;

    public static DateTimeOffset Start(long quarter) => new(quarter * Length.Ticks, TimeSpan.Zero);

    /// <summary>Day of the week at the marina when a quarter begins.</summary>
    public static DayOfWeek Day(long quarter, TimeZoneInfo zone) => TimeZoneInfo.ConvertTime(Start(quarter), zone).DayOfWeek;
}
