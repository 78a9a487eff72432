using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;

namespace Farberth.Planning.Study;

/// <summary>One dock under stated loads.</summary>
/// <param name="Draws">What was stated, all outlets.</param>
/// <param name="Flow">Solved with cables as warm as these loads make them.</param>
/// <param name="Faults">Available fault current and disconnection, which do not depend on the loads.</param>
public sealed record DockStudy(DockDefinition Dock, IReadOnlyList<Draw> Draws, DockFlow Flow, IReadOnlyList<PedestalFault> Faults)
{
    /// <param name="outdoorCelsius">Air; in raceways it is warmer by the sun.</param>
    public static DockStudy Of(SiteDefinition site, DockDefinition dock, IReadOnlyList<Draw> draws, double outdoorCelsius) => new(
        dock, draws,
        DockCase.WarmedBy(site, dock, outdoorCelsius + site.Limits.SunRiseKelvin, draws).Solve(draws),
        Study.Faults.Along(site, dock));

    /// <summary>Highest share of its ampacity in any conductor of a cable, and in which.</summary>
    public (double Share, Leg Conductor) Loading(string cable)
    {
        var (limit, value) = Flow.Case.Limits.Zip(Flow.Values)
            .Where(pair => pair.First.Place == cable && pair.First.Kind is LimitKind.Cable or LimitKind.Neutral && pair.First.Place == cable)
            .MaxBy(pair => pair.Second / pair.First.Bound);
        return (value / limit.Bound, limit.Leg);
    }

    /// <summary>Share of a limit of the source that is used; null where there is no such limit.</summary>
    public double? Used(LimitKind kind)
    {
        var used = Flow.Case.Limits.Zip(Flow.Values).Where(pair => pair.First.Kind == kind).ToList();
        return used.Count == 0 ? null : used.Max(pair => pair.Second / pair.First.Bound);
    }
}
