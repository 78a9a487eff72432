using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Advice;

/// <summary>
/// What of an outlet's amps its boat does not give up: the low end of what it drew in the last day, from a histogram that fades
/// with a time constant of a day. What stands above that is discretionary. Before enough has been seen a share is assumed.
/// </summary>
sealed class EssentialBase
{
    /// <summary>Assumed: a tenth of the time a boat draws only what it needs.</summary>
    const double LowQuantile = 0.10;

    /// <summary>Assumed where the past is not known: refrigerator, charger and pumps of what is drawn now.</summary>
    const double AssumedShare = 0.3;

    const double BinAmps = 0.5;
    const double LeastMinutes = 120;

    static readonly TimeSpan Every = TimeSpan.FromMinutes(1);
    static readonly double Fade = Math.Exp(-Every / TimeSpan.FromDays(1));

    readonly Dictionary<(OutletKey Outlet, Leg Leg), double[]> minutes = [];
    DateTimeOffset? last;

    /// <summary>Amps that are left alone when so much is drawn now.</summary>
    public double Of(OutletKey outlet, Leg leg, double amps)
    {
        if (!minutes.TryGetValue((outlet, leg), out var bins) || bins.Sum() is not (>= LeastMinutes and var seen))
            return AssumedShare * amps;
        var (at, below) = (0, bins[0]);
        while (below < LowQuantile * seen)
            below += bins[++at];
        return (at + 1) * BinAmps;
    }

    /// <summary>Once a minute, of outlets that a boat draws from.</summary>
    public void Learn(DockImage image, double drawingAmps)
    {
        if (last is { } before && image.Now - before < Every && image.Now >= before)
            return;
        last = image.Now;
        foreach (var pedestal in image.Pedestals.Values.Where(pedestal => pedestal.IsFresh))
            foreach (var outlet in pedestal.Outlets.Values)
                foreach (var leg in outlet.Definition.Legs)
                    if (outlet.Latest?.Amps[leg] is { } amps && amps >= drawingAmps)
                        Count(minutes, (new(pedestal.Definition.Name, outlet.Definition.Name), leg), outlet.Definition.RatingAmps, amps);
    }

    static void Count(Dictionary<(OutletKey, Leg), double[]> minutes, (OutletKey, Leg) key, double ratingAmps, double amps)
    {
        if (!minutes.TryGetValue(key, out var bins))
            minutes[key] = bins = new double[1 + (int)(ratingAmps / BinAmps)];
        foreach (ref var bin in bins.AsSpan())
            bin *= Fade;
        bins[Math.Min((int)(amps / BinAmps), bins.Length - 1)]++;
    }

    public EssentialMemory Memory() => new(
        last, [.. minutes.Select(pair => new DrawnMinutes(pair.Key.Outlet, pair.Key.Leg, [.. pair.Value]))]);

    public void Resume(EssentialMemory memory)
    {
        last = memory.Last;
        foreach (var drawn in memory.Drawn)
            minutes[(drawn.Outlet, drawn.Leg)] = drawn.Minutes;
    }
}

sealed record EssentialMemory(DateTimeOffset? Last, IReadOnlyList<DrawnMinutes> Drawn);

/// <param name="Minutes">In which so much was drawn, by half amperes, faded.</param>
sealed record DrawnMinutes(OutletKey Outlet, Leg Leg, double[] Minutes);
