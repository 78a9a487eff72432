using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Risk;

/// <summary>Looks for motors that do not start on one dock. What an outlet's last minutes show is worked out when a new moment comes.</summary>
sealed class StallWatch(SiteDefinition site)
{
    readonly Dictionary<OutletKey, (OutletMoments Recent, Leg? Leg)> judged = [];

    /// <summary>The leg of every outlet on which one is.</summary>
    public IReadOnlyDictionary<OutletKey, Leg> Tick(DockImage image)
    {
        var stalled = new Dictionary<OutletKey, Leg>();
        foreach (var pedestal in image.Pedestals.Values)
            foreach (var outlet in pedestal.Outlets.Values)
                if (Judge(new(pedestal.Definition.Name, outlet.Definition.Name), outlet) is { } leg)
                    stalled.Add(new(pedestal.Definition.Name, outlet.Definition.Name), leg);
        return stalled;
    }

    Leg? Judge(OutletKey key, OutletImage outlet)
    {
        if (judged.TryGetValue(key, out var known) && ReferenceEquals(known.Recent, outlet.Recent))
            return known.Leg;
        var leg = MotorStall.LegOf(site, outlet);
        judged[key] = (outlet.Recent, leg);
        return leg;
    }
}
