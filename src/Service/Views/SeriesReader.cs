using Farberth.Adapters.Stores.Embedded;
using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Service.Views;

/// <summary>
/// Thins the history out for a chart. Hours come from the readings, days from minutes, seasons from quarters of an hour, and where the
/// finer ones are deleted already from the next coarser; points then stand for equal whiles, each with its least, mean and most.
/// </summary>
/// <param name="history">Null: nothing is kept.</param>
public sealed class SeriesReader(History? history)
{
    public const int MostPoints = 2000, UsualPoints = 400;

    /// <summary>Longer is not answered.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromDays(800);

    const int MostRows = 100_000;

    static readonly TimeSpan Minute = TimeSpan.FromMinutes(1), Quarter = TimeSpan.FromMinutes(15);
    static readonly TimeSpan LongestOfReadings = TimeSpan.FromHours(3), LongestOfMinutes = TimeSpan.FromDays(14);

    /// <summary>What a point may stand for, s: whole parts of minutes, hours and days, so that points of two charts lie at the same times.</summary>
    static readonly IReadOnlyList<int> Steps =
        [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10800, 21600, 43200, 86400, 172800, 604800, 1209600, 2592000, 7776000];

    static readonly IReadOnlyList<string> Legs = [.. Enum.GetValues<Leg>().Select(leg => leg.ToString())];

    readonly record struct Row(DateTimeOffset At, IReadOnlyList<Spread> Volts, IReadOnlyList<Spread> Amps);

    /// <summary>From a time on and before another.</summary>
    /// <param name="outlet">Null: all outlets together.</param>
    /// <param name="points">At most so many, 1 to <see cref="MostPoints"/>.</param>
    /// <exception cref="IOException">The disk does not give them.</exception>
    public HistorySeries Read(string pedestal, string? outlet, DateTimeOffset from, DateTimeOffset to, int points)
    {
        var span = to - from;
        var none = new HistorySeries(pedestal, outlet, from, to, "reading", 0, [], false, false);
        if (history is null || span <= TimeSpan.Zero)
            return none;
        if (span <= LongestOfReadings && history.Readings(pedestal, from, to, MostRows) is { Rows.Count: > 0 } readings)
            return Thinned(none with { IsCut = readings.IsCut }, readings.Rows.Select(reading => Of(reading, outlet)), TimeSpan.Zero, points);
        if (span <= LongestOfMinutes && history.Minutes(pedestal, from, to, MostRows) is { Rows.Count: > 0 } minutes)
            return Thinned(none with { Of = "minute", IsCut = minutes.IsCut, AmpsAreBounds = outlet is null }, minutes.Rows.Select(one => Of(one, outlet)), Minute, points);
        var quarters = history.Quarters(pedestal, from, to, MostRows);
        return Thinned(none with { Of = "quarter", IsCut = quarters.IsCut, AmpsAreBounds = outlet is null }, quarters.Rows.Select(one => Of(one, outlet)), Quarter, points);
    }

    static HistorySeries Thinned(HistorySeries empty, IEnumerable<Row> all, TimeSpan grain, int points)
    {
        var rows = all.ToList();
        if (rows.Count <= points)
            return empty with { StepSeconds = grain.TotalSeconds, Points = [.. rows.Select(row => Point(row.At, [row]))] };
        // One more may begin before the first whole step.
        var seconds = Steps.FirstOrDefault(step => step >= grain.TotalSeconds && (empty.To - empty.From).TotalSeconds / step <= points - 1, Steps[^1]);
        var ticks = seconds * TimeSpan.TicksPerSecond;
        return empty with
        {
            StepSeconds = seconds,
            Points = [.. rows.GroupBy(row => row.At.UtcTicks / ticks).Select(one => Point(new(one.Key * ticks, TimeSpan.Zero), one))],
        };
    }

    static SeriesPoint Point(DateTimeOffset at, IEnumerable<Row> rows)
    {
        var (volts, amps) = (new Spreading[Legs.Count], new Spreading[Legs.Count]);
        foreach (var row in rows)
        {
            for (var leg = 0; leg < row.Volts.Count; leg++)
                volts[leg].Add(row.Volts[leg]);
            for (var leg = 0; leg < row.Amps.Count; leg++)
                amps[leg].Add(row.Amps[leg]);
        }
        return new(at, ByLeg(volts, 2), ByLeg(amps, 2));
    }

    static Dictionary<string, Spread> ByLeg(Spreading[] spreads, int decimals) => spreads.Select((one, leg) => (Leg: Legs[leg], one.Spread))
        .Where(one => one.Spread.IsThere)
        .ToDictionary(one => one.Leg, one => new Spread(
            Math.Round(one.Spread.Least, decimals), Math.Round(one.Spread.Mean, decimals), Math.Round(one.Spread.Most, decimals)));

    static Row Of(Reading reading, string? outlet) => new(
        reading.Time, Exactly(reading.Volts),
        Together(reading.Outlets.Where(one => outlet is null || one.Key == outlet).Select(one => Exactly(one.Value.Amps))));

    static Row Of(PedestalSpan span, string? outlet) => new(
        span.Start, span.Volts, Together(span.Amps.Where(one => outlet is null || one.Key == outlet).Select(one => one.Value)));

    static IReadOnlyList<Spread> Exactly(PerLeg values) => [.. Enum.GetValues<Leg>().Select(leg => new Spread(values[leg], values[leg], values[leg]))];

    /// <summary>Leg by leg the sum of what is there.</summary>
    static IReadOnlyList<Spread> Together(IEnumerable<IReadOnlyList<Spread>> outlets) =>
        outlets.Aggregate((IReadOnlyList<Spread>)[], (sum, one) => sum.Count == 0 ? one : [.. sum.Zip(one, Sum)]);

    static Spread Sum(Spread a, Spread b) =>
        !a.IsThere ? b : !b.IsThere ? a : new(a.Least + b.Least, a.Mean + b.Mean, a.Most + b.Most);
}
