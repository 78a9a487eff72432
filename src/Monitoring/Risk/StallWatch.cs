using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Risk;

/// <summary>Looks for motors that do not start on one dock. What an outlet's last minutes show is worked out when a new moment comes.</summary>
sealed class StallWatch(SiteDefinition site)
{
    (OutletMoments Recent, Leg? Leg)[] judged = []; // in an image's order

    /// <summary>The leg of every outlet on which one is.</summary>
    public IReadOnlyDictionary<OutletKey, Leg> Tick(DockImage image)
    {
        if (judged.Length == 0)
            judged = new (OutletMoments, Leg?)[image.Pedestals.Values.Sum(pedestal => pedestal.Outlets.Count)];
        var (stalled, next) = (new Dictionary<OutletKey, Leg>(), 0);
        foreach (var pedestal in image.Pedestals.Values)
            foreach (var outlet in pedestal.Outlets.Values)
            {
                ref var known = ref judged[next++];
                if (!ReferenceEquals(known.Recent, outlet.Recent))
                    known = (outlet.Recent, MotorStall.LegOf(site, outlet));
                if (known.Leg is { } leg)
                    stalled.Add(new(pedestal.Definition.Name, outlet.Definition.Name), leg);
            }
        return stalled;
    }
}
