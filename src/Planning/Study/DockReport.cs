using Farberth.Monitoring.Site;
using Farberth.Planning.Codes;
using Farberth.Planning.Flow;
using Farberth.Planning.Loads;

namespace Farberth.Planning.Study;

/// <summary>All that is known of a dock without a meter: under stated loads, and what it could take or become.</summary>
/// <param name="Room">For each kind of outlet that the dock has, from an empty dock on.</param>
/// <param name="Upgrades">The greatest effect first.</param>
public sealed record DockReport(
    DockStudy Loaded, DockDemand Demand, IReadOnlyList<HostingCapacity> Room, IReadOnlyList<UpgradeEffect> Upgrades)
{
    /// <param name="draws">The stated loads.</param>
    /// <param name="outdoorCelsius">The day's highest.</param>
    public static DockReport Of(SiteDefinition site, DockDefinition dock, IReadOnlyList<Draw> draws, double outdoorCelsius, bool isSubmetered)
    {
        var study = DockStudy.Of(site, dock, draws, outdoorCelsius);
        return new(
            study,
            DemandTable.Of(site.Supply, dock, isSubmetered),
            [
                .. TypicalBoat.KindsOf(site).Select(cord => Hosting.Of(site, dock, TypicalBoat.Of(site.Supply, cord), [], outdoorCelsius))
                    .Where(hosting => hosting.FreeOutlets > 0),
            ],
            UpgradeEffect.Ranked(site, study, outdoorCelsius));
    }
}
