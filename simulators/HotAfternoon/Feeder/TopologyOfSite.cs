using Farberth.Grid.Conductors;
using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon;

/// <summary>Fills the simulator's own topology from a site definition: table rows, and nothing the service computes.</summary>
/// <remarks>
/// Temperature coefficients at 20 °C: copper 0.00393, aluminium 0.00403 per kelvin (IEC 60228 practice; IEC 60287-1-1).
/// </remarks>
static class TopologyOfSite
{
    public static Topology Of(SiteDefinition site, DockDefinition dock) => new(
        dock.Name,
        site.Supply,
        dock.Source,
        [.. OutwardOrder(dock.Cables).Select(cable => Run(cable, site.Supply.Hertz))],
        [.. dock.Pedestals.Values.OrderBy(pedestal => pedestal.Name, StringComparer.Ordinal)]);

    static CableRun Run(CableDefinition cable, double hertz) => new(
        cable.From,
        cable.To,
        cable.LengthMetres,
        WireOf(cable.Conductor, cable, hertz),
        WireOf(cable.Neutral, cable, hertz),
        cable.AmpacityAmps ?? cable.Sets * cable.Conductor.AmpacityAmps(TemperatureRating.C75, 30));

    static Wire WireOf(Conductor conductor, CableDefinition cable, double hertz) => new(
        conductor.OhmsPerMetre(20, cable.Raceway) / cable.Sets,
        conductor.ReactanceOhmsPerMetre(cable.Raceway, hertz) / cable.Sets,
        conductor.Metal == Metal.Copper ? 0.00393 : 0.00403);

    /// <summary>Breadth first from the source, in the file's order among equals.</summary>
    static List<CableDefinition> OutwardOrder(IReadOnlyList<CableDefinition> cables)
    {
        var byInnerEnd = cables.ToLookup(cable => cable.From);
        var ordered = new List<CableDefinition>(byInnerEnd[DockDefinition.SourcePoint]);
        for (var next = 0; next < ordered.Count; next++)
            ordered.AddRange(byInnerEnd[ordered[next].To]);
        return ordered;
    }
}
