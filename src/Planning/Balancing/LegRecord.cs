using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Survey;

namespace Farberth.Planning.Balancing;

/// <summary>A dock's record as other wirings are judged by it: each quarter behind the volts that explain what its pedestals measured.</summary>
public sealed class LegRecord
{
    /// <summary>A pass over the record costs some tenths of a second for a month: so many quarters are looked at, evenly spread.</summary>
    const int MostQuarters = 3000;

    readonly IReadOnlyList<(HistoryQuarter Quarter, double NoLoadVolts)> quarters;
    readonly double hours;

    /// <param name="history">It has a whole quarter.</param>
    public LegRecord(SiteDefinition site, DockHistory history)
    {
        Case = DockCase.Usual(site, history.Dock, site.Limits.RacewayCelsius);
        var step = 1 + (history.Whole.Count - 1) / MostQuarters;
        quarters = [.. history.Whole.Where((_, at) => at % step == 0).Select(quarter => (quarter, history.NoLoadVolts(Case, quarter)))];
        hours = history.Whole.Count * HistoryQuarter.Length.TotalHours;
    }

    public DockCase Case { get; }

    /// <summary>The load flow of every quarter with some outlets on other legs.</summary>
    public IEnumerable<(HistoryQuarter Quarter, DockFlow Flow)> Flows(IReadOnlyList<LegMove> moves) =>
        quarters.Select(at => (at.Quarter, Case.Solve(Draws(at.Quarter, moves), at.NoLoadVolts)));

    internal static IEnumerable<Draw> Draws(HistoryQuarter quarter, IReadOnlyList<LegMove> moves) =>
        quarter.Draws.Select(draw => moves.Aggregate(draw, (one, move) => move.Of(one)));

    public BalanceOverTime With(IReadOnlyList<LegMove> moves)
    {
        var (lowest, neutral, most, imbalance, weight, watts) = (double.PositiveInfinity, 0.0, 0.0, 0.0, 0.0, 0.0);
        foreach (var (_, flow) in Flows(moves))
        {
            var amps = Case.Site.Supply.Legs.Select(leg => flow.State.AmpsInto(DockDefinition.SourcePoint, leg).Magnitude).ToList();
            var inNeutral = flow.State.AmpsInto(DockDefinition.SourcePoint, Leg.N).Magnitude;
            (lowest, most) = (Math.Min(lowest, flow.Lowest.Volts), Math.Max(most, inNeutral));
            (neutral, watts) = (neutral + inNeutral, watts + flow.LossWatts);
            (imbalance, weight) = (imbalance + amps.Max() - amps.Average(), weight + amps.Average());
        }
        return new(lowest, neutral / quarters.Count, most, weight > 0 ? imbalance / weight : 0, watts / quarters.Count * hours / 1000);
    }
}
