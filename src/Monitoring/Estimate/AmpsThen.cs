using Farberth.Grid.Estimation;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>
/// The amps of a whole dock at the moment of one pedestal's reading, and how well they are known. Its own were read with it. Those of another lie
/// between what that one said before and after; where it has not spoken since, a load may have come that nobody has told of.
/// </summary>
sealed class AmpsThen
{
    /// <summary>
    /// One standard deviation of what nobody tells of, share of the rating: from the last reading on, and of a pedestal that is not heard at all, whose
    /// outlets go together since one boat may lie there. Assumed: up to all of it.
    /// </summary>
    const double UnknownShare = 0.4;
    const double SilentShare = 0.6;

    /// <summary>A motor that starts takes several times what it runs on (7 times its rated amps: WECC motor D; confirmed): one standard deviation, times the rise.</summary>
    const double StartShare = 3;

    /// <summary>Of a load that has gone between the two readings, and of a meter of amps.</summary>
    const double GoneShare = 0.5;

    /// <summary>A motor that tried to start in between and gave up, or any other short load: share of the rating (assumed).</summary>
    const double UnseenShare = 0.1;

    const double AmpsShare = 0.02;
    const double LeastAmps = 0.1;

    readonly DateTimeOffset moment;

    public AmpsThen(SupplySystem supply, IReadOnlyList<string> buses, DockImage image, PedestalImage at)
    {
        moment = at.Latest!.Time;
        var legs = supply.Legs.Count;
        Amps = new double[buses.Count * legs];
        Sd = new(new double[Amps.Length], new double[Amps.Length]);
        for (var bus = 0; bus < buses.Count; bus++)
        {
            if (!image.Pedestals.TryGetValue(buses[bus], out var pedestal))
                continue;
            foreach (var outlet in pedestal.Outlets.Values)
                foreach (var leg in outlet.Definition.Legs)
                {
                    var load = bus * legs + (int)leg;
                    if (!pedestal.IsFresh || outlet.Recent.Count == 0)
                    {
                        Sd.Lasting[load] += SilentShare * outlet.Definition.RatingAmps;
                        continue;
                    }
                    var (more, sd) = Between(outlet, leg);
                    Amps[load] += more;
                    Sd.Passing[load] = Root(Sd.Passing[load], sd);
                }
        }
    }

    /// <summary>More than the newest that are known, A, at [bus · legs + leg].</summary>
    public double[] Amps { get; }

    public AmpsSd Sd { get; }

    (double More, double Sd) Between(OutletImage outlet, Leg leg)
    {
        var after = outlet.Recent.Count;
        while (after > 0 && outlet.Recent[after - 1].Time >= moment)
            after--;
        var newest = outlet.Latest is not { Closed: not false } latest ? 0 : Known(latest.Amps[leg]);
        if (after == outlet.Recent.Count)
            return (AmpsOf(outlet.Recent[^1], leg) - newest, UnknownShare * outlet.Definition.RatingAmps);
        var then = AmpsOf(outlet.Recent[after], leg);
        if (outlet.Recent[after].Time == moment)
            return (then - newest, Root(AmpsShare * then, LeastAmps));
        if (after == 0)
            return (then - newest, UnknownShare * outlet.Definition.RatingAmps);
        var before = AmpsOf(outlet.Recent[after - 1], leg);
        var moved = (then - before) * (then > before ? StartShare : GoneShare);
        return ((then + before) / 2 - newest, Root(UnseenShare * outlet.Definition.RatingAmps, Root(Root(AmpsShare * then, LeastAmps), moved)));
    }

    static double AmpsOf(OutletMoment at, Leg leg) => at.Outlet.Closed == false ? 0 : Known(at.Outlet.Amps[leg]);

    static double Known(double amps) => double.IsNaN(amps) ? 0 : amps;

    static double Root(double a, double b) => Math.Sqrt(a * a + b * b);
}
