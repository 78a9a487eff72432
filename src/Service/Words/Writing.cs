using System.Globalization;

namespace Farberth.Service.Words;

/// <summary>Numbers and times as a reader's language writes them; the names of days and months are among its words.</summary>
/// <param name="words">With the keys "days" (from Sunday) and "months", each parted by spaces, "date" and the ages.</param>
/// <param name="zone">The marina's own time.</param>
public sealed class Writing(WordBook words, Preferences preferences, TimeZoneInfo zone)
{
    public string Number(double value, int decimals = 0)
    {
        var text = Math.Round(value, decimals, MidpointRounding.AwayFromZero).ToString("F" + decimals, CultureInfo.InvariantCulture);
        return text.Replace(".", words["decimal"], StringComparison.Ordinal).Replace('-', '−');
    }

    public string Celsius(double celsius) => preferences.Fahrenheit ? $"{Number(celsius * 9 / 5 + 32)} °F" : $"{Number(celsius)} °C";

    /// <summary>"14:03" or "2:03 pm".</summary>
    public string Time(DateTimeOffset at)
    {
        var local = Local(at);
        return preferences.TwelveHours
            ? string.Create(CultureInfo.InvariantCulture, $"{(local.Hour + 11) % 12 + 1}:{local:mm} {(local.Hour < 12 ? "am" : "pm")}")
            : local.ToString("HH:mm", CultureInfo.InvariantCulture);
    }

    /// <summary>"Sat 17 Jul, 14:03".</summary>
    public string DayAndTime(DateTimeOffset at) => $"{Day(at)}, {Time(at)}";

    public string Day(DateTimeOffset at)
    {
        var local = Local(at);
        return words.Say("date", words["days"].Split(' ')[(int)local.DayOfWeek], local.Day.ToString(CultureInfo.InvariantCulture), words["months"].Split(' ')[local.Month - 1]);
    }

    /// <summary>The time alone on the same day.</summary>
    public string Moment(DateTimeOffset at, DateTimeOffset now) => Local(at).Date == Local(now).Date ? Time(at) : DayAndTime(at);

    /// <summary>"40 seconds", "12 minutes", "3 hours", "2 days".</summary>
    public string Span(TimeSpan span) => span switch
    {
        { TotalSeconds: < 90 } => words.Say("seconds", Number(Math.Max(0, span.TotalSeconds))),
        { TotalMinutes: < 90 } => words.Say("minutes", Number(span.TotalMinutes)),
        { TotalHours: < 48 } => words.Say("hours", Number(span.TotalHours)),
        _ => words.Say("days-long", Number(span.TotalDays)),
    };

    DateTimeOffset Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, zone);
}
