using System.Numerics;
using Farberth.Grid.Protection;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;

namespace Farberth.Planning.Study;

/// <summary>What flows at a pedestal when conductors touch, and how soon breakers then open.</summary>
/// <param name="LoopOhms">Source, leg out and neutral back, with hot conductors, of the leg with the largest loop.</param>
/// <param name="LeastAmps">Bolted fault to neutral with hot conductors: what must still trip a breaker.</param>
/// <param name="MostAmps">Largest bolted fault with cold conductors: what must be interrupted.</param>
/// <param name="OutletSeconds">By when the slowest outlet breaker of the pedestal has opened at the least fault; infinite: it may never.</param>
/// <param name="FeederSeconds">By when the feeder breaker has; null without one.</param>
public sealed record PedestalFault(
    string Pedestal, Complex LoopOhms, double LeastAmps, double MostAmps, double OutletSeconds, double? FeederSeconds);

/// <summary>Bolted faults along a dock, from its site file alone: no arc, no motors on board.</summary>
public static class Faults
{
    /// <summary>Conductors at the temperature that most terminations allow, and of a dock before the season.</summary>
    public const double HotCelsius = 75, ColdCelsius = 20;

    /// <summary>
    /// Disconnection within this is what IEC 60364-4-41 asks of final circuits with socket-outlets in TN systems: 0.8 s up to 120 V to earth,
    /// 0.4 s up to 230 V; 5 s of distribution circuits (from memory). The NEC has no such times.
    /// </summary>
    public static double FinalSeconds(double nominalVolts) => nominalVolts <= 120 ? 0.8 : 0.4;

    /// <summary>See <see cref="FinalSeconds"/>.</summary>
    public const double DistributionSeconds = 5;

    /// <summary>Of every pedestal, in the order of the dock's tree. The volts behind the transformer are the site file's.</summary>
    public static IReadOnlyList<PedestalFault> Along(SiteDefinition site, DockDefinition dock)
    {
        var volts = DockFeeder.Equal(site.Supply, dock.Source.NoLoadVolts);
        var hot = DockFeeder.Build(site, dock, volts, _ => (HotCelsius, HotCelsius));
        var cold = DockFeeder.Build(site, dock, volts, _ => (ColdCelsius, ColdCelsius));
        var air = site.Limits.RacewayCelsius;
        return
        [
            .. from point in new DockTree(dock).Points
               where dock.Pedestals.ContainsKey(point)
               let atHot = FaultCurrent.At(hot, point)
               select new PedestalFault(
                   point, atHot.LoopOhms, atHot.LeastLegToNeutralAmps, FaultCurrent.At(cold, point).MaximumAmps,
                   dock.Pedestals[point].Outlets.Values.Max(outlet => Seconds(
                       outlet.Breaker ?? site.Limits.Breaker, outlet.RatingAmps, atHot.LeastLegToNeutralAmps, air)),
                   dock.FeederBreakerAmps is { } rating ? Seconds(site.Limits.Breaker, rating, atHot.LeastLegToNeutralAmps, air) : null),
        ];
    }

    static double Seconds(BreakerFamily family, double ratingAmps, double faultAmps, double celsius) =>
        new TripBand(family, ratingAmps).LatestSeconds(faultAmps / ratingAmps, celsius);
}
