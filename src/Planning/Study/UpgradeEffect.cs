using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;

namespace Farberth.Planning.Study;

/// <summary>What a change would bring under the same loads.</summary>
/// <param name="LowestVolts">After it, at any pedestal.</param>
/// <param name="GainVolts">More than before.</param>
/// <param name="SavedWatts">Less lost in cables and transformer, at these loads.</param>
/// <param name="MoreShare">How many percent more of all these loads together the dock could carry before it passes a limit; below 0: fewer.</param>
/// <param name="Faults">Available fault current and disconnection after it.</param>
public sealed record UpgradeEffect(
    Upgrade Upgrade, double LowestVolts, double GainVolts, double SavedWatts, double MoreShare, IReadOnlyList<PedestalFault> Faults)
{
    /// <summary>Everything that <see cref="Upgrade.Of"/> offers, the greatest effect first: capacity, then volts.</summary>
    public static IReadOnlyList<UpgradeEffect> Ranked(SiteDefinition site, DockStudy before, double outdoorCelsius)
    {
        var carries = Carries(site, before.Dock, before.Draws, outdoorCelsius);
        return
        [
            .. Upgrade.Of(site, before.Dock).Select(upgrade => Of(site, before, carries, upgrade, outdoorCelsius))
                .OrderByDescending(effect => Math.Round(effect.MoreShare, 2)).ThenByDescending(effect => effect.GainVolts),
        ];
    }

    static UpgradeEffect Of(SiteDefinition site, DockStudy before, double carries, Upgrade upgrade, double outdoorCelsius)
    {
        var after = DockStudy.Of(site, upgrade.After, before.Draws, outdoorCelsius);
        return new(
            upgrade, after.Flow.Lowest.Volts, after.Flow.Lowest.Volts - before.Flow.Lowest.Volts, before.Flow.LossWatts - after.Flow.LossWatts,
            Carries(site, upgrade.After, before.Draws, outdoorCelsius) - carries, after.Faults);
    }

    /// <summary>The largest multiple of the loads with which every limit is kept, by halving; up to 4.</summary>
    public static double Carries(SiteDefinition site, DockDefinition dock, IReadOnlyList<Draw> draws, double outdoorCelsius)
    {
        var @case = DockCase.WarmedBy(site, dock, outdoorCelsius + site.Limits.SunRiseKelvin, draws);
        var (good, bad) = (0.0, 4.0);
        while (bad - good > 1e-3)
        {
            var middle = (good + bad) / 2;
            (good, bad) = @case.Solve(draws.Select(draw => draw with { Amps = middle * draw.Amps })).IsGood ? (middle, bad) : (good, middle);
        }
        return good;
    }
}
