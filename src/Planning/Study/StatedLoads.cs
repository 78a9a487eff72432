using Farberth.Monitoring.Site;
using Farberth.Planning.Codes;
using Farberth.Planning.Flow;

namespace Farberth.Planning.Study;

/// <summary>Loads that somebody states rather than measures.</summary>
public static class StatedLoads
{
    /// <summary>Every receptacle that the demand table counts at its rating times the table's factor.</summary>
    public static IReadOnlyList<Draw> ByCode(SiteDefinition site, DockDefinition dock, bool isSubmetered)
    {
        var demand = DemandTable.Of(site.Supply, dock, isSubmetered);
        return
        [
            .. DemandTable.Counted(site.Supply, dock).Select(found => new Draw(
                found.Pedestal, found.Outlet, found.Outlet.RatingAmps * demand.Share * demand.MeterShare)),
        ];
    }

    /// <summary>Every outlet at a share of its rating.</summary>
    public static IReadOnlyList<Draw> OfRatings(DockDefinition dock, double share) =>
    [
        .. dock.Pedestals.Values.SelectMany(pedestal => pedestal.Outlets.Values.Select(outlet =>
            new Draw(pedestal.Name, outlet, share * outlet.RatingAmps))),
    ];

    /// <summary>Some outlets at amps of their own, the others as they were.</summary>
    public static IReadOnlyList<Draw> With(DockDefinition dock, IReadOnlyList<Draw> draws, IReadOnlyDictionary<(string Pedestal, string Outlet), double> amps) =>
    [
        .. draws.Where(draw => !amps.ContainsKey((draw.Pedestal, draw.Outlet.Name))),
        .. from stated in amps
           where dock.Pedestals.ContainsKey(stated.Key.Pedestal)
           select new Draw(stated.Key.Pedestal, dock.Pedestals[stated.Key.Pedestal].Outlets[stated.Key.Outlet], stated.Value),
    ];
}
