using Farberth.Grid.Protection;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Risk;

/// <summary>
/// Follows the heat of every outlet's breaker on one dock with the amps that flow, and reads off when it may open.
/// Deterministic; a tick follows, a new reading asks for the outlook.
/// </summary>
/// <remarks>
/// Amps are the median of the last three readings: a motor's start is over before the second. Of several legs the largest counts.
/// The breaker's air is that of the raceways: outdoor air and the sun.
/// </remarks>
public sealed class BreakerWatch
{
    const int PointsOfABand = 24;
    internal const int StepsOfAnHour = 12;

    readonly List<WatchedBreaker> breakers = [];
    readonly Dictionary<(BreakerFamily, double), BreakerPoints> bands = [];
    readonly Dictionary<BreakerPoints, BandNow> now = [];
    readonly Dictionary<OutletKey, TripOutlook> outlooks = [];
    DateTimeOffset? last;
    double tickSeconds = double.NaN;

    public BreakerWatch(SiteDefinition site, DockDefinition dock)
    {
        foreach (var pedestal in dock.Pedestals.Values)
            foreach (var outlet in pedestal.Outlets.Values)
                breakers.Add(new(pedestal.Name, outlet, PointsOf(outlet.Breaker ?? site.Limits.Breaker, outlet.RatingAmps), site.Limits.ContinuousShare));
        foreach (var points in bands.Values)
            now[points] = new([], points.Decays(3600.0 / StepsOfAnHour), 1);
    }

    /// <param name="image">Not older than the last.</param>
    /// <param name="airCelsius">Around the breakers.</param>
    /// <param name="forecastAmps">Amps of an outlet so many minutes ahead; null: the trend of its own last hour.</param>
    /// <returns>Of every outlet; good until the next tick.</returns>
    public IReadOnlyDictionary<OutletKey, TripOutlook> Tick(
        DockImage image, double airCelsius, Func<OutletKey, double, double>? forecastAmps = null)
    {
        var seconds = last is { } before ? (image.Now - before).TotalSeconds : 0;
        last = image.Now;
        foreach (var points in bands.Values)
            now[points] = new(seconds == tickSeconds ? now[points].Tick : points.Decays(seconds), now[points].Step, points.Band.Ambient(airCelsius));
        tickSeconds = seconds;
        var lasting = LoadsThatLast.Share(image.Weather, image.Now);
        PedestalImage? pedestal = null;
        foreach (var breaker in breakers)
        {
            if (pedestal?.Definition.Name != breaker.Key.Pedestal)
                pedestal = image.Pedestals[breaker.Key.Pedestal];
            var band = now[breaker.Points];
            breaker.Follow(pedestal, image.Now, band.Ambient, seconds, band.Tick);
            if (breaker.IsNew || !outlooks.ContainsKey(breaker.Key))
                outlooks[breaker.Key] = breaker.Outlook(band.Step, lasting, forecastAmps);
        }
        return outlooks;
    }

    /// <summary>What all breakers of a band share in one tick.</summary>
    /// <param name="Tick">Decay of each point over the tick; <paramref name="Step"/>: over a step of the outlook.</param>
    /// <param name="Ambient">What the rating becomes in the air now: the factor k.</param>
    sealed record BandNow(double[] Tick, double[] Step, double Ambient);

    BreakerPoints PointsOf(BreakerFamily family, double ratingAmps) =>
        bands.TryGetValue((family, ratingAmps), out var known) ? known
            : bands[(family, ratingAmps)] = new(new TripBand(family, ratingAmps), PointsOfABand);

    internal BreakersMemory Memory() => new(last, [.. breakers.Select(breaker => new OutletBreakerMemory(breaker.Key, breaker.Memory()))]);

    internal void Resume(BreakersMemory memory)
    {
        last = memory.Last;
        var byOutlet = breakers.ToDictionary(breaker => breaker.Key);
        foreach (var its in memory.Breakers)
            byOutlet[its.Outlet].Resume(its.Breaker);
    }
}

sealed record BreakersMemory(DateTimeOffset? Last, IReadOnlyList<OutletBreakerMemory> Breakers);

sealed record OutletBreakerMemory(OutletKey Outlet, BreakerMemory Breaker);
