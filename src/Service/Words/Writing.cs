using System.Globalization;
using Farberth.Monitoring.Words;

namespace Farberth.Service.Words;

/// <summary>Numbers and times as somebody likes to read them. Volts and amps are volts and amps everywhere.</summary>
/// <param name="zone">The marina's own time.</param>
public sealed class Writing(Preferences preferences, TimeZoneInfo zone)
{
    const double MetresPerFoot = 0.3048;

    readonly WordBook words = WordBook.OfWriting(preferences.Language);

    public string LengthUnit => preferences.IsFeet ? "ft" : "m";

    public string Number(double value, int decimals = 0) => Localised(Math.Round(value, decimals, MidpointRounding.AwayFromZero).ToString("F" + decimals, CultureInfo.InvariantCulture));

    public string Volts(double volts) => $"{Number(volts, 1)} V";

    /// <summary>To a tenth, which a whole number goes without.</summary>
    public string Amps(double amps) => $"{Localised(amps.ToString("0.#", CultureInfo.InvariantCulture))} A";

    public string Share(double share) => $"{Number(100 * share)} %";

    public string Celsius(double celsius) => preferences.IsFahrenheit ? $"{Number(celsius * 9 / 5 + 32)} °F" : $"{Number(celsius)} °C";

    public string Length(double metres) => $"{Number(preferences.IsFeet ? metres / MetresPerFoot : metres)} {LengthUnit}";

    /// <summary>As somebody types it, to a tenth.</summary>
    public double LengthOf(double metres) => preferences.IsFeet ? Math.Round(metres / MetresPerFoot, 1) : metres;

    public double MetresOf(double typed) => preferences.IsFeet ? typed * MetresPerFoot : typed;

    /// <summary>"14:03" or "2:03 pm".</summary>
    public string Time(DateTimeOffset at) => Time(at, "mm");

    /// <summary>"14:03:27" or "2:03:27 pm".</summary>
    public string TimeWithSeconds(DateTimeOffset at) => Time(at, "mm:ss");

    /// <summary>"Sat 17 Jul, 14:03".</summary>
    public string DayAndTime(DateTimeOffset at) => $"{Day(at)}, {Time(at)}";

    public string Day(DateTimeOffset at)
    {
        var local = Local(at);
        return words["date", words["days"].Split(' ')[(int)local.DayOfWeek], local.Day, words["months"].Split(' ')[local.Month - 1]];
    }

    /// <summary>"2027-07-17 14:03" (ISO 8601), for tables.</summary>
    public string DateAndTime(DateTimeOffset at) => $"{Local(at).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)} {Time(at)}";

    /// <summary>A sentence with its moments in this reader's manner.</summary>
    public Sentence Written(Sentence said) => said with { Parts = [.. said.Parts.Select(part => part switch
    {
        DateTimeOffset at => DateAndTime(at),
        Moment moment => DayAndTime(moment.At),
        Sentence within => Written(within),
        _ => part,
    })] };

    /// <summary>The time alone on the same day.</summary>
    public string Moment(DateTimeOffset at, DateTimeOffset now) => Local(at).Date == Local(now).Date ? Time(at) : DayAndTime(at);

    /// <summary>"40 seconds", "12 minutes", "3 hours", "2 days".</summary>
    public string Span(TimeSpan span) => span switch
    {
        { TotalSeconds: < 90 } => words["seconds", Number(Math.Max(0, span.TotalSeconds))],
        { TotalMinutes: < 90 } => words["minutes", Number(span.TotalMinutes)],
        { TotalHours: < 48 } => words["hours", Number(span.TotalHours)],
        _ => words["days-long", Number(span.TotalDays)],
    };

    string Localised(string number) => number.Replace(".", words["decimal"], StringComparison.Ordinal).Replace('-', '−');

    string Time(DateTimeOffset at, string minutes)
    {
        var local = Local(at);
        return preferences.Is12Hours
            ? $"{(local.Hour + 11) % 12 + 1}:{local.ToString(minutes, CultureInfo.InvariantCulture)} {(local.Hour < 12 ? "am" : "pm")}"
            : local.ToString("HH:" + minutes, CultureInfo.InvariantCulture);
    }

    DateTimeOffset Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, zone);
}
