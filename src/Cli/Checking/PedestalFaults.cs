using Farberth.Grid.Protection;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;
using Farberth.Service.Views;

namespace Farberth.Cli.Checking;

/// <summary>What a site file says of one pedestal's place in the feeder.</summary>
/// <param name="LoopOhms">Source, leg out and neutral back, with hot conductors, of the leg with the largest loop.</param>
/// <param name="LeastAmps">Bolted fault to neutral with hot conductors: what must still trip a breaker.</param>
/// <param name="MostAmps">Largest bolted fault with cold conductors: what must be interrupted.</param>
sealed record PedestalFaults(string Pedestal, double Metres, CableDefinition Cable, double LoopOhms, double LeastAmps, double MostAmps)
{
    /// <summary>Conductors at the temperature that most terminations allow, and of a dock before the season.</summary>
    public const double HotCelsius = 75, ColdCelsius = 20;

    /// <summary>Of every pedestal of a dock, the nearest first. The volts behind the transformer are the site file's.</summary>
    public static IReadOnlyList<PedestalFaults> Of(SiteDefinition site, DockDefinition dock)
    {
        var distances = new DockDistances(dock);
        var volts = DockFeeder.Equal(site.Supply, dock.Source.NoLoadVolts);
        var hot = DockFeeder.Build(site, dock, volts, _ => (HotCelsius, HotCelsius));
        var cold = DockFeeder.Build(site, dock, volts, _ => (ColdCelsius, ColdCelsius));
        return
        [
            .. from name in distances.Pedestals
               let atHot = FaultCurrent.At(hot, name)
               select new PedestalFaults(
                   name, distances.Metres(name), distances.Path(name).First(), atHot.LoopOhms.Magnitude,
                   atHot.LeastLegToNeutralAmps, FaultCurrent.At(cold, name).MaximumAmps),
        ];
    }
}
