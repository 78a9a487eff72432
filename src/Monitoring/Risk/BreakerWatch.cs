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

    readonly List<WatchedBreaker> breakers = []; // as DockImage.Outlets
    readonly Dictionary<(BreakerFamily, double), BreakerPoints> bands = [];
    readonly Dictionary<BreakerPoints, (double[] Tick, double[] Step)> decays = [];
    readonly TripOutlook?[] outlooks;
    DateTimeOffset? last;
    double tickSeconds = double.NaN;

    public BreakerWatch(SiteDefinition site, DockDefinition dock)
    {
        foreach (var pedestal in dock.Pedestals.Values)
            foreach (var outlet in pedestal.Outlets.Values)
                breakers.Add(new(pedestal.Name, outlet, PointsOf(outlet.Breaker ?? site.Limits.Breaker, outlet.RatingAmps), site.Limits.ContinuousShare));
        outlooks = new TripOutlook?[breakers.Count];
        foreach (var points in bands.Values)
            decays[points] = ([], points.Decays(3600.0 / StepsOfAnHour));
    }

    /// <param name="image">Not older than the last.</param>
    /// <param name="airCelsius">Around the breakers.</param>
    /// <param name="forecastAmps">Amps of an outlet so many minutes ahead; null: the trend of its own last hour.</param>
    /// <returns>As <see cref="DockImage.Outlets"/>; good until the next tick.</returns>
    public IReadOnlyList<TripOutlook> Tick(
        DockImage image, double airCelsius, Func<OutletKey, double, double>? forecastAmps = null)
    {
        var seconds = last is { } before ? (image.Now - before).TotalSeconds : 0;
        last = image.Now;
        if (seconds != tickSeconds)
        {
            tickSeconds = seconds;
            foreach (var (points, known) in decays.ToList())
                decays[points] = (points.Decays(seconds), known.Step);
        }
        var lasting = LoadsThatLast.Share(image.Weather, image.Now);
        for (var at = 0; at < outlooks.Length; at++)
        {
            var ((pedestal, outlet), breaker) = (image.Outlets[at], breakers[at]);
            var (tick, step) = decays[breaker.Points];
            breaker.Follow(outlet.Recent, pedestal.IsFresh, image.Now, airCelsius, seconds, tick);
            if (breaker.IsNew || outlooks[at] == null)
                outlooks[at] = breaker.Outlook(step, lasting, forecastAmps);
        }
        return outlooks!;
    }

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
