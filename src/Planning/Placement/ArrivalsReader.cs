using System.Globalization;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Site.FileFormat;
using Farberth.Monitoring.Words;
using Farberth.Planning.Loads;

namespace Farberth.Planning.Placement;

/// <summary>Reads the values of an arrivals file. Times are local times of the marina.</summary>
sealed class ArrivalsReader(ValueReader read, SiteDefinition site)
{
    const int MostAirConditioners = 20;

    /// <summary>Common practice: guests come from 14:00 on and leave by 11:00.</summary>
    const int ArrivalHour = 14, DepartureHour = 11;

    static readonly IReadOnlyList<(string, bool)> Truth = [("true", true), ("false", false)];

    readonly TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone);
    readonly BoatReader boats = new(read);

    public ArrivalList Read(YamlValue root)
    {
        var fields = read.Fields(root, ArrivalsKeys.File);
        List<Arrival> arrivals = [.. read.Named(fields["arrivals"], Sentence.Of("a boat")).Select(Arrival)];
        if (fields["arrivals"] is YamlMap && arrivals.Count == 0)
            read.Wrong(fields["arrivals"]!.At, "'arrivals' is empty; describe at least one boat.");
        if (arrivals.Count > ArrivalsFile.MostBoats)
            read.Wrong(fields["arrivals"]!.At, $"More than {ArrivalsFile.MostBoats} boats are not planned in one go; split the file.");
        var timed = arrivals.Where(arrival => arrival.From != default && arrival.Until != default).ToList(); // the others were reported
        var start = timed.Select(arrival => arrival.From).DefaultIfEmpty().Min();
        if (timed.Count > 0 && timed.Max(arrival => arrival.Until) - start > ArrivalsFile.LongestPlan)
            read.Wrong(fields["arrivals"]!.At, $"The stays reach over more than {ArrivalsFile.LongestPlan.Days} days; split the file.");
        List<Stay> present = [.. read.Named(fields["present"], Sentence.Of("a slip")).Select(Stay)];
        return new(start, arrivals, present, OutdoorOf(fields["outdoor"]));
    }

    Arrival Arrival(YamlEntry entry)
    {
        var fields = read.Fields(entry.Value, ArrivalsKeys.Arrival);
        var (from, until) = (Time(fields["from"], ArrivalHour), Time(fields["until"], DepartureHour));
        if (from >= until)
            read.Wrong(fields["until"]!.At, "A boat cannot leave before it has come; correct 'from' or 'until'.");
        var wishes = read.Fields(fields["wishes"], ArrivalsKeys.Wishes);
        return new(
            boats.Read(entry.Key, fields), from ?? default, until ?? default,
            Known(wishes["dock"], site.Docks.Keys, "dock"),
            [.. read.List(wishes["slips"], "'[C-12, C-13]'").Select(item => Known(item, site.Slips.Keys, "slip")).OfType<string>()]);
    }

    Stay Stay(YamlEntry entry)
    {
        var fields = read.Fields(entry.Value, ArrivalsKeys.Stay);
        if (!site.Slips.ContainsKey(entry.Key))
            read.Wrong(entry.KeyAt, Unknown(entry.Key, site.Slips.Keys, "slip"));
        var mayMove = read.Choice(fields["may-move"], Truth) ?? false;
        if (mayMove && (fields["beam"] is null || fields["draught"] is null))
            read.Wrong(entry.KeyAt, "A boat that may move needs 'beam' and 'draught' too, or nobody knows where it fits.");
        return new(entry.Key, boats.Read(read.Name(fields["boat"]) ?? entry.Key, fields), Time(fields["until"], DepartureHour) ?? default, mayMove);
    }

    Outdoor OutdoorOf(YamlValue? value)
    {
        if (value is null)
            return Outdoor.HotDays;
        var fields = read.Fields(value, ArrivalsKeys.Outdoor);
        var days = new Dictionary<DateOnly, DayCelsius>();
        foreach (var entry in read.Named(fields["days"], Sentence.Of("a day")))
            if (DateOnly.TryParseExact(entry.Key, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date))
                days[date] = Day(read.Fields(entry.Value, ArrivalsKeys.Day));
            else
                read.Wrong(entry.KeyAt, $"{Spelling.Quote(entry.Key)} is no date; write it as 2027-07-17.");
        return new(Day(fields), days);
    }

    DayCelsius Day(Fields fields)
    {
        var day = new DayCelsius(
            read.Quantity(fields["high"], ArrivalsKeys.Celsius) ?? Outdoor.HotDays.Usual.High,
            read.Quantity(fields["low"], ArrivalsKeys.Celsius) ?? double.NegativeInfinity);
        if (day.Low > day.High)
            read.Wrong(fields["low"]!.At, "The lowest temperature of a day is above its highest; swap them.");
        return day;
    }

    /// <summary>A local day with or without its time.</summary>
    DateTimeOffset? Time(YamlValue? value, int hourOfNone)
    {
        if (read.Text(value) is not { } text)
            return null;
        string[] formats = ["yyyy-MM-dd HH:mm", "yyyy-MM-dd"];
        if (!DateTime.TryParseExact(text, formats, CultureInfo.InvariantCulture, DateTimeStyles.None, out var local))
            read.Wrong(value!.At, $"{Spelling.Quote(text)} is no time; write it as 2027-07-17 15:00 or 2027-07-17, at the marina.");
        else if (zone.IsInvalidTime(local = text.Length > 10 ? local : local.AddHours(hourOfNone)))
            read.Wrong(value!.At, $"{Spelling.Quote(text)} does not exist: clocks are set forward then.");
        else
            return new DateTimeOffset(local, zone.GetUtcOffset(local)).ToUniversalTime();
        return null;
    }

    string? Known(YamlValue? value, IEnumerable<string> names, string what)
    {
        if (read.Name(value) is not { } name)
            return null;
        if (names.Contains(name))
            return name;
        read.Wrong(value!.At, Unknown(name, names, what));
        return null;
    }

    static string Unknown(string name, IEnumerable<string> names, string what) =>
        $"The site file has no {what} {Spelling.Quote(name)}" + (Spelling.Nearest(name, names) is { } near ? $"; did you mean '{near}'?" : ".");

    /// <summary>Reads what arrivals and present boats have in common.</summary>
    sealed class BoatReader(ValueReader read)
    {
        public Boat Read(string name, Fields fields) => new(
            name,
            read.Quantity(fields["length"], ArrivalsKeys.Length) ?? 0,
            read.Quantity(fields["beam"], ArrivalsKeys.Beam) ?? 0,
            read.Quantity(fields["draught"], ArrivalsKeys.Draught) ?? 0,
            [.. read.List(fields["power"], "'[{ rating: 30 A }]', or '[]' for none").Select(Cord)],
            (int)(read.Number(fields["air-conditioners"], Sentence.Of("The number of air conditioners"), 0, MostAirConditioners) ?? 0));

        Cord Cord(YamlValue value)
        {
            var fields = read.Fields(value, ArrivalsKeys.Cord);
            return new(
                read.Quantity(fields["rating"], ArrivalsKeys.Rating) ?? 0,
                read.Count(fields["legs"], Sentence.Of("The number of legs"), 3) ?? 1,
                read.Choice(fields["neutral"], Truth) ?? true);
        }
    }
}
