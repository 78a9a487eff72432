using Farberth.Grid.Protection;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Risk;

/// <summary>One outlet's breaker as the readings show it.</summary>
sealed class WatchedBreaker(string pedestal, OutletDefinition outlet, BreakerPoints points, double continuousShare)
{
    /// <summary>Assumed: after so long the air, the boat and the season are others, and a peak held then says little.</summary>
    static readonly TimeSpan ForgottenAfter = TimeSpan.FromDays(60);

    /// <summary>A leg with less is dead, whatever the supply: half of the smallest nominal.</summary>
    const double LiveVolts = 60;

    /// <summary>Chance of an outlet opened by hand at a moment of heavy load, against which a trip must stand out. Assumed.</summary>
    const double ByHandChance = 0.003;

    /// <summary>Likewise of a boat whose whole load goes off in one moment, where nobody says whether the outlet is open.</summary>
    const double VanishedChance = 0.02;

    /// <summary>One more appliance, as a share of the rating, for two steps of five minutes: 7.5 A of 30 A, a kettle or an oven. Assumed.</summary>
    const double ApplianceShare = 0.25;
    const int ApplianceSteps = 2;

    readonly AmpsTrend trend = new(outlet.RatingAmps);
    readonly double[] ahead = new double[BreakerWatch.StepsOfAnHour];
    DateTimeOffset? heard;
    BreakerHeat? heat;
    double k = 1;
    double amps;
    (double Last, double Before) earlier;
    bool isClosed = true;
    bool isNew;
    TripOutlook outlook = TripOutlook.Cold(0);

    public OutletKey Key { get; } = new(pedestal, outlet.Name);

    public BreakerPoints Points => points;

    /// <summary>The last tick brought a reading.</summary>
    public bool IsNew => isNew;

    /// <summary>(i/k)² of some amps.</summary>
    double Square(double other) => other / outlet.RatingAmps / k * (other / outlet.RatingAmps / k);

    /// <param name="isFresh">Its pedestal is heard.</param>
    public void Follow(OutletMoments recent, bool isFresh, DateTimeOffset now, double airCelsius, double seconds, double[] decays)
    {
        isNew = recent.Count > 0 && recent[^1].Time != heard;
        if (heat == null && !isNew)
            return;
        k = points.Band.Ambient(airCelsius);
        heat?.Follow(Square(amps), decays);
        if (isNew)
            TakeNew(recent, now);
        if (isClosed && isFresh && heat!.IsWarmerThan(Warm))
            heat.Survive(seconds / ForgottenAfter.TotalSeconds);
    }

    /// <summary>Cold and below the continuous limit nothing is at stake.</summary>
    double Warm => continuousShare * continuousShare;

    /// <summary>Some pedestals say more than one reading between two ticks.</summary>
    void TakeNew(OutletMoments recent, DateTimeOffset now)
    {
        var first = recent.Count - 1;
        while (first > 0 && heard != null && recent[first - 1].Time > heard)
            first--;
        for (var at = first; at < recent.Count; at++)
            Take(recent[at]);
        trend.Add(now.ToUnixTimeMilliseconds() / 1000.0, amps);
    }

    void Take(OutletMoment moment)
    {
        var latest = moment.Outlet;
        var drawn = outlet.Legs.Max(leg => double.IsNaN(latest.Amps[leg]) ? 0 : latest.Amps[leg]);
        heat ??= new(points, Math.Min(Square(drawn), Warm));
        if (heard == null)
            earlier = (drawn, drawn);
        heard = moment.Time;
        var vanished = latest.Closed == null && drawn == 0 && HasVolts(moment) && (!isClosed || earlier.Last > outlet.RatingAmps * continuousShare);
        if (isClosed && latest.Closed == false)
            heat.Open(ByHandChance);
        else if (isClosed && vanished)
            vanished = heat.Open(VanishedChance);
        isClosed = latest.Closed ?? !vanished;
        amps = isClosed ? Math.Max(Math.Min(drawn, earlier.Last), Math.Min(Math.Max(drawn, earlier.Last), earlier.Before)) : 0;
        earlier = (drawn, earlier.Last);
    }

    bool HasVolts(OutletMoment moment) => outlet.Legs.All(leg => moment.Volts[leg] > LiveVolts);

    /// <param name="lasting">How likely it is that what it draws goes on.</param>
    public TripOutlook Outlook(double[] decays, double lasting, Func<OutletKey, double, double>? forecastAmps)
    {
        if (heat == null || !isNew)
            return outlook;
        return outlook = Next(heat, decays, lasting, forecastAmps);
    }

    TripOutlook Next(BreakerHeat known, double[] decays, double lasting, Func<OutletKey, double, double>? forecastAmps)
    {
        var (present, most) = (Square(amps), 0.0);
        if (!isClosed || (present < Warm && !known.IsWarmerThan(Warm) && trend.SlopeAmps <= 0 && forecastAmps == null))
            return TripOutlook.Cold(amps);
        Array.Fill(ahead, present);
        var held = known.Chance(ahead, decays);
        double Then(double minutes) => forecastAmps?.Invoke(Key, minutes) ?? trend.Ahead(minutes, amps);
        for (var step = 0; step < ahead.Length; step++)
        {
            var then = Then(60.0 / ahead.Length * (step + 1));
            most = Math.Max(most, then);
            ahead[step] = Square(then);
        }
        var forecast = known.Chance(ahead, decays);
        Array.Fill(ahead, Square(Then(15) + ApplianceShare * outlet.RatingAmps), 0, ApplianceSteps);
        return new(amps, held, forecast, most) { Busier = known.Chance(ahead, decays), Lasting = lasting };
    }

    public BreakerMemory Memory() => new(heard, heat?.Memory(), amps, earlier.Last, earlier.Before, isClosed, outlook, trend.Memory());

    public void Resume(BreakerMemory memory)
    {
        (heard, amps, isClosed, outlook) = (memory.Heard, memory.Amps, memory.IsClosed, memory.Outlook);
        earlier = (memory.Earlier, memory.EarlierStill);
        trend.Resume(memory.Trend);
        if (memory.Heat is { } known)
            (heat = new(points, 0)).Resume(known);
    }
}

/// <param name="Heard">Time of its newest reading.</param>
/// <param name="Heat">Null before the first reading.</param>
/// <param name="Earlier">Amps of the last reading, a start included; <paramref name="EarlierStill"/> of the one before.</param>
sealed record BreakerMemory(
    DateTimeOffset? Heard, BreakerHeatMemory? Heat, double Amps, double Earlier, double EarlierStill, bool IsClosed, TripOutlook Outlook,
    AmpsTrendMemory Trend);
