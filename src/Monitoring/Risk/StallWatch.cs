using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Risk;

/// <summary>Looks for motors that do not start on one dock. What an outlet's last minutes show is worked out when a new moment comes.</summary>
sealed class StallWatch(SiteDefinition site)
{
    (OutletMoments Recent, Leg? Leg)[] judged = []; // as DockImage.Outlets

    /// <summary>The leg of every outlet on which one is.</summary>
    public IReadOnlyDictionary<OutletKey, Leg> Tick(DockImage image)
    {
        if (judged.Length == 0)
            judged = new (OutletMoments, Leg?)[image.Outlets.Count];
        var stalled = new Dictionary<OutletKey, Leg>();
        for (var at = 0; at < judged.Length; at++)
        {
            var (pedestal, outlet) = image.Outlets[at];
            ref var known = ref judged[at];
            if (!ReferenceEquals(known.Recent, outlet.Recent))
                known = (outlet.Recent, MotorStall.LegOf(site, outlet));
            if (known.Leg is { } leg)
                stalled.Add(new(pedestal.Definition.Name, outlet.Definition.Name), leg);
        }
        return stalled;
    }
}
