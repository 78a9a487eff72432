using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Forecast;

/// <summary>
/// The chance of a sag within a day. Hours hang together: an afternoon that is worse than expected at four is so at five too, and
/// chances of single hours do not add up. So whole past days of errors are laid upon the forecast, and counted is on how many of
/// them, by weight, the volts leave the band at any full hour of the day. Needs a day to learn from; before, normal errors that are
/// alike at every hour are assumed.
/// </summary>
static class SagPaths
{
    /// <summary>People are about and can do something (assumed).</summary>
    static bool IsDaytime(DateTimeOffset at, TimeZoneInfo zone) => TimeZoneInfo.ConvertTime(at, zone).Hour is >= 6 and < 22;

    public static SagChance Chance(Series lowest, long now, IReadOnlyList<DockAhead> hours, VoltageBands bands, TimeZoneInfo zone)
    {
        int[] daytime = [.. Enumerable.Range(0, hours.Count).Where(at => IsDaytime(hours[at].Until, zone))];
        if (daytime.Length == 0)
            return new(0, 0, null);
        var margins = Margins(lowest, now, daytime);
        var worst = hours[daytime.MinBy(at => hours[at].Volts.Median)];
        return new(margins.ShareBelow(bands.LowA), margins.ShareBelow(bands.LowB), worst);
    }

    /// <summary>The lowest volts of the day to come on each past day's errors.</summary>
    static WeightedSample Margins(Series lowest, long now, int[] daytime)
    {
        var sample = new WeightedSample();
        lowest.LookBack(now, state: false);
        foreach (var (row, made, weight) in lowest.Issued.Alike)
        {
            var volts = double.PositiveInfinity;
            foreach (var at in daytime)
                volts = Math.Min(volts, lowest.Centres[at] + lowest.Values[made + Quarters.Ahead[at]] - lowest.Issued.Expected(row, at));
            sample.Add(volts, weight); // of a day that is not over, or with holes, NaN: left out
        }
        var centre = double.PositiveInfinity;
        foreach (var at in daytime)
            centre = Math.Min(centre, lowest.Centres[at]);
        lowest.FillUp(sample, centre);
        return sample;
    }
}
