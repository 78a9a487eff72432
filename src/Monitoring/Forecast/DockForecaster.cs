using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Forecast;

/// <summary>
/// Remembers a dock by the quarter-hour and says what the next 24 hours will most likely bring, each quarter-hour anew. A tick only
/// sums. Deterministic; its memory is bounded: 75 kB for each leg of an outlet, 0.6 MB for the dock.
/// </summary>
public sealed class DockForecaster
{
    readonly SiteDefinition site;
    readonly DockDefinition dock;
    readonly TimeZoneInfo zone;
    readonly OutdoorAir air = new();
    readonly IReadOnlyList<OutletLeg> outlets;
    readonly Nowcast outletsNowcast = new();
    readonly DockSeries whole;
    long? quarter;
    DockForecast? latest;

    public DockForecaster(SiteDefinition site, DockDefinition dock)
    {
        (this.site, this.dock, zone) = (site, dock, TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone));
        outlets = OutletLeg.Of(site, dock);
        whole = new(site, dock);
    }

    /// <summary>Takes in one tick.</summary>
    /// <param name="image">Not older than the last.</param>
    /// <returns>The latest forecast; null before the first quarter-hour has ended.</returns>
    public DockForecast? Tick(DockImage image, DockEstimate estimate, DockLearned learned)
    {
        var current = Quarters.Of(image.Now);
        if (current > quarter)
        {
            Close(quarter.Value, image, estimate, learned);
            latest = image.IsWhole ? Forecast(current - 1, image, estimate, learned) : latest;
        }
        quarter = quarter > current ? quarter : current;
        if (!image.IsWhole)
            return latest;
        foreach (var leg in outlets)
            leg.Tick(image.Pedestals[leg.Key.Pedestal]);
        whole.Tick(estimate);
        return latest;
    }

    void Close(long ended, DockImage image, DockEstimate estimate, DockLearned learned)
    {
        var day = Quarters.Day(ended, zone);
        air.Close(ended, image.Weather);
        foreach (var leg in outlets)
        {
            leg.Close(
                ended, image.Pedestals[leg.Key.Pedestal].Outlets[leg.Key.Outlet], estimate.Pedestals[leg.Key.Pedestal].Volts[leg.Leg],
                Response(learned, leg), air, day, whole.SlopeShare(ended, air, day, leg.Leg));
            outletsNowcast.Learn(leg.Series.Residuals, ended);
        }
        outletsNowcast.Close();
        whole.Close(ended, outlets, air, day);
    }

    DockForecast Forecast(long now, DockImage image, DockEstimate estimate, DockLearned learned)
    {
        double[] degrees = [.. Quarters.Ahead.Select(ahead => air.Ahead(now + ahead, image.Weather, image.Now))];
        DayOfWeek[] days = [.. Quarters.Ahead.Select(ahead => Quarters.Day(now + ahead, zone))];
        whole.Expect(now, degrees, days, air);
        foreach (var leg in outlets)
            leg.Series.Expect(now, degrees, days, air, outletsNowcast, at => whole.SlopeShareAhead(leg.Leg, at));
        FlowAhead[] flows = [.. Quarters.Ahead.Select((_, at) => Flow(at, estimate.FromSource.Feeder, learned))];
        DockAhead[] hours = [.. Quarters.Ahead.Select((_, at) => whole.Ahead(now, at, flows[at]))];
        var byOutlet = outlets.Where(leg => !leg.Series.Values.IsEmpty).GroupBy(leg => leg.Key)
            .ToDictionary(legs => legs.Key, legs => new OutletForecast(ByLeg(now, legs, flows, learned)));
        var forecast = new DockForecast(image.Now, whole.LearnedShare, hours, byOutlet, whole.Sag(now, hours, zone));
        foreach (var leg in outlets)
            leg.Series.Issued.Add(now, leg.Series.Centres, leg.IsGone);
        whole.Issue(now);
        return forecast;
    }

    /// <summary>The outlets share what is expected of the dock in proportion of what is expected of each.</summary>
    FlowAhead Flow(int at, Feeder feeder, DockLearned learned)
    {
        var share = site.Supply.Legs.Aggregate(PerLeg.None, (all, leg) => all.With(leg, whole.Share(leg, at, outlets)));
        return FlowAhead.Of(site, dock, feeder, whole.OpenCircuitVolts(at), outlets.Select(leg =>
            (leg, Known(leg.Series.Centres[at]) * share[leg.Leg], Response(learned, leg))));
    }

    Dictionary<Leg, IReadOnlyList<Quantiles>> ByLeg(long now, IEnumerable<OutletLeg> legs, FlowAhead[] flows, DockLearned learned)
    {
        var all = new Dictionary<Leg, IReadOnlyList<Quantiles>>();
        foreach (var leg in legs)
        {
            Quantiles[] horizons = [.. Quarters.Ahead.Select((_, at) =>
            {
                var factor = leg.VoltsFactor(flows[at].State.VoltsAt(leg.Key.Pedestal, leg.Leg).Magnitude, Response(learned, leg));
                return leg.At(now, at).Each(amps => Math.Max(0, amps * factor));
            })];
            foreach (var each in leg.Legs)
                all[each] = horizons;
        }
        return all;
    }

    double Response(DockLearned learned, OutletLeg leg) =>
        learned.Responses.TryGetValue(leg.Key, out var known) ? known.Exponent : site.Limits.LoadResponse;

    internal static double Known(double amps) => double.IsNaN(amps) ? 0 : Math.Max(0, amps);

    internal ForecasterMemory Memory() => new(
        quarter, latest == null ? null : ForecastMemory.Of(latest), air.Cooling.Memory(),
        [.. outlets.Select(leg => leg.Memory())], outletsNowcast.Memory(), whole.Memory());

    internal void Resume(ForecasterMemory memory)
    {
        (quarter, latest) = (memory.Quarter, memory.Latest?.Forecast());
        air.Cooling.Resume(memory.Cooling);
        var byLeg = outlets.ToDictionary(leg => (leg.Key, leg.Leg));
        foreach (var leg in memory.Outlets)
            byLeg[(leg.Outlet, leg.Leg)].Resume(leg);
        outletsNowcast.Resume(memory.OutletsNowcast);
        if (memory.Whole is { } known)
            whole.Resume(known);
    }
}

/// <param name="Quarter">The quarter-hour under way.</param>
/// <param name="Cooling">Cooling degrees of the past, K.</param>
/// <param name="Whole">Null where the dock is another one now.</param>
sealed record ForecasterMemory(
    long? Quarter, ForecastMemory? Latest, QuarterRingMemory Cooling, IReadOnlyList<OutletLegMemory> Outlets,
    NowcastMemory OutletsNowcast, DockSeriesMemory? Whole);

/// <summary>A <see cref="DockForecast"/> whose outlets stand in a list.</summary>
sealed record ForecastMemory(
    DateTimeOffset Time, double LearnedShare, IReadOnlyList<DockAhead> Hours,
    IReadOnlyList<OutletAhead> Outlets, SagChance Sag)
{
    public static ForecastMemory Of(DockForecast forecast) =>
        new(forecast.Time, forecast.LearnedShare, forecast.Hours, [.. forecast.Outlets.Select(pair => new OutletAhead(pair.Key, pair.Value))], forecast.Sag);

    public DockForecast Forecast() => new(Time, LearnedShare, Hours, Outlets.ToDictionary(one => one.Outlet, one => one.Forecast), Sag);
}

sealed record OutletAhead(OutletKey Outlet, OutletForecast Forecast);
