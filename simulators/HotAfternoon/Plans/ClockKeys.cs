using System.Globalization;
using YamlDotNet.RepresentationModel;

namespace Farberth.HotAfternoon;

/// <summary>Reads clock times and spans, local at the marina, from a mapping.</summary>
static class ClockKeys
{
    static readonly string[] DateForms = ["yyyy-MM-dd HH:mm", "yyyy-MM-ddTHH:mm"];
    static readonly string[] ClockForms = ["HH:mm", "HH:mm:ss"];

    public static TimeOnly Clock(this YamlMap map, string key) =>
        map.MaybeText(key) is { } text ? map.ParseClock(text, map.PlaceOfKey(key)) : default;

    public static TimeOnly Clock(this YamlMap map, string key, TimeOnly otherwise) =>
        map.Has(key) ? map.Clock(key) : otherwise;

    /// <summary>A clock time on the scenario's day.</summary>
    public static DateTime Moment(this YamlMap map, string key) => map.Day + map.Clock(key).ToTimeSpan();

    public static DateTime? MaybeMoment(this YamlMap map, string key) => map.Has(key) ? map.Moment(key) : null;

    public static DateTime DateAndClock(this YamlMap map, string key)
    {
        if (map.MaybeText(key) is not { } text)
            return default;
        if (DateTime.TryParseExact(text, DateForms, CultureInfo.InvariantCulture, DateTimeStyles.None, out var at))
            return at;
        map.Complain(map.PlaceOfKey(key), $"'{key}: {text}' is not a local date and time such as 2027-07-17 11:00.");
        return default;
    }

    /// <summary>A list of spans such as [07:00-09:00, 16:00-21:30].</summary>
    public static IReadOnlyList<Span> Spans(this YamlMap map, string key) =>
        [.. map.Items(key).Select(item => map.ParseSpan(item))];

    static Span ParseSpan(this YamlMap map, YamlNode item)
    {
        var place = YamlMap.PlaceOf(item);
        var ends = item.ToString().Split('-');
        if (ends.Length != 2)
        {
            map.Complain(place, $"'{item}' is not a span such as 16:00-21:30.");
            return default;
        }
        var from = map.ParseClock(ends[0], place);
        var until = map.ParseClock(ends[1], place);
        if (until <= from)
            map.Complain(place, $"the span '{item}' must end after it begins.");
        return new Span(map.Day + from.ToTimeSpan(), map.Day + until.ToTimeSpan());
    }

    static TimeOnly ParseClock(this YamlMap map, string text, Place place)
    {
        var invariant = CultureInfo.InvariantCulture;
        if (TimeOnly.TryParseExact(text.Trim(), ClockForms, invariant, DateTimeStyles.None, out var time))
            return time;
        map.Complain(place, $"'{text}' is not a clock time such as 16:30.");
        return default;
    }
}
