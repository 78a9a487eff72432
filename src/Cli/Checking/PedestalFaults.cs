using Farberth.Monitoring.Site;
using Farberth.Planning.Study;
using Farberth.Service.Views;

namespace Farberth.Cli.Checking;

/// <summary>What a site file says of one pedestal's place in the feeder.</summary>
sealed record PedestalFaults(double Metres, CableDefinition Cable, PedestalFault Fault)
{
    /// <summary>Of every pedestal of a dock, run after run, the nearest first.</summary>
    public static IReadOnlyList<PedestalFaults> Of(SiteDefinition site, DockDefinition dock)
    {
        var distances = new DockDistances(dock);
        var faults = Faults.Along(site, dock).ToDictionary(fault => fault.Pedestal);
        return [.. distances.Pedestals.Select(name => new PedestalFaults(distances.Metres(name), distances.Path(name).First(), faults[name]))];
    }
}
