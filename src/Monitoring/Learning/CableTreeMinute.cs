using System.Numerics;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Learning;

/// <summary>
/// The currents in every cable of a dock during one minute: J_i = I_i + Σ_children J. A pedestal that was not heard is taken
/// to draw per rated amp what the others draw, with a standard deviation of a quarter of the rating of each of its outlets
/// (assumed: between an empty slip and a full load), independent of one another.
/// </summary>
sealed class CableTreeMinute
{
    const double SilentShareSd = 0.25;

    readonly SiteDefinition site;
    readonly Complex[,] drawn;
    readonly double[,] drawnSd;
    readonly Complex[,] amps;
    readonly double[,] variance;

    public CableTreeMinute(SiteDefinition site, DockDefinition dock)
    {
        this.site = site;
        Cables = [.. Outwards(dock)];
        Parents = [.. Cables.Select(cable => Cables.FindIndex(inner => inner.To == cable.From))];
        Pedestals = [.. Cables.Select(cable =>
            dock.Pedestals.TryGetValue(cable.To, out var pedestal) ? new PedestalMinute(site, pedestal) : null)];
        (drawn, drawnSd) = (new Complex[Cables.Count, 3], new double[Cables.Count, 3]);
        (amps, variance) = (new Complex[Cables.Count, 3], new double[Cables.Count, 3]);
    }

    /// <summary>Each after the one that feeds it.</summary>
    public List<CableDefinition> Cables { get; }

    /// <summary>The cable that feeds a cable; −1 at the source.</summary>
    public int[] Parents { get; }

    /// <summary>At the outer ends; null at a point without outlets.</summary>
    public PedestalMinute?[] Pedestals { get; }

    public bool IsLive(int cable) => Pedestals[cable]?.IsLive == true;

    /// <summary>By the pedestal at the outer end.</summary>
    public Complex Drawn(int cable, int leg) => drawn[cable, leg];

    /// <summary>Of <see cref="Drawn"/>, A; 0 where it was heard.</summary>
    public double DrawnSd(int cable, int leg) => drawnSd[cable, leg];

    /// <summary>In the cable.</summary>
    public Complex Amps(int cable, int leg) => amps[cable, leg];

    /// <summary>Of <see cref="Amps"/>, by the pedestals beyond that are silent; A².</summary>
    public double AmpsVariance(int cable, int leg) => variance[cable, leg];

    /// <summary>Puts the currents together from the pedestals' means.</summary>
    public void Gather()
    {
        Array.Clear(amps);
        Array.Clear(variance);
        for (var leg = 0; leg < site.Supply.Legs.Count; leg++)
        {
            var usual = AmpsPerRatedAmp(leg);
            for (var cable = Cables.Count - 1; cable >= 0; cable--)
            {
                if (Pedestals[cable] is { } pedestal)
                {
                    drawn[cable, leg] = pedestal.IsLive ? pedestal.Amps(leg) : usual * pedestal.RatedAmps[leg];
                    drawnSd[cable, leg] = pedestal.IsLive ? 0 : SilentShareSd * pedestal.RatedAmpsRootSquares[leg];
                    amps[cable, leg] += drawn[cable, leg];
                    variance[cable, leg] += drawnSd[cable, leg] * drawnSd[cable, leg];
                }
                if (Parents[cable] < 0)
                    continue;
                amps[Parents[cable], leg] += amps[cable, leg];
                variance[Parents[cable], leg] += variance[cable, leg];
            }
        }
    }

    Complex AmpsPerRatedAmp(int leg)
    {
        var (sum, rated) = (Complex.Zero, 0.0);
        foreach (var pedestal in Pedestals)
            if (pedestal is { IsLive: true })
                (sum, rated) = (sum + pedestal.Amps(leg), rated + pedestal.RatedAmps[leg]);
        return rated > 0 ? sum / rated : 0;
    }

    static List<CableDefinition> Outwards(DockDefinition dock)
    {
        var byInnerEnd = dock.Cables.ToLookup(cable => cable.From);
        var ordered = new List<CableDefinition>(byInnerEnd[DockDefinition.SourcePoint]);
        for (var next = 0; next < ordered.Count; next++)
            ordered.AddRange(byInnerEnd[ordered[next].To]);
        return ordered;
    }
}
