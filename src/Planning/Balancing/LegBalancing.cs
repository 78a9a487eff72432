using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Survey;

namespace Farberth.Planning.Balancing;

/// <summary>Finds the moves by an integer program; the load flow judges them over the whole record.</summary>
public static class LegBalancing
{
    /// <summary>A pass over the record by the load flow costs some seconds for a month: so many quarters are looked at, evenly spread.</summary>
    const int MostJudged = 3000;

    const double EnoughShare = 0.8, LeastVoltsWorthAMove = 0.1;

    /// <param name="mostMoves">Steps that are looked at.</param>
    /// <param name="limit">For each step.</param>
    public static LegBalance Of(SiteDefinition site, DockHistory history, int mostMoves, TimeSpan limit, CancellationToken stop = default)
    {
        var @case = DockCase.Usual(site, history.Dock, site.Limits.RacewayCelsius);
        var before = Judge(@case, history, []);
        var steps = new List<BalanceStep>();
        for (var moves = 1; moves <= mostMoves && site.Supply.Legs.Count > 1 && !stop.IsCancellationRequested; moves++)
        {
            var found = new LegProgram(@case, history).Best(moves, limit);
            if (found.Count == moves) // else fewer do as well, though one more may not: two outlets may have to change places
                steps.Add(new(found, Judge(@case, history, found)));
        }
        return new(history.Dock, before, steps, Advised(before, steps));
    }

    static BalanceStep? Advised(BalanceOverTime before, List<BalanceStep> steps)
    {
        double Gain(BalanceStep step) => step.After.LowestVolts - before.LowestVolts;
        var most = steps.Select(Gain).DefaultIfEmpty(0).Max();
        return steps.Find(step => Gain(step) >= Math.Max(LeastVoltsWorthAMove, EnoughShare * most));
    }

    /// <summary>The record by the load flow, with some outlets on other legs.</summary>
    public static BalanceOverTime Judge(DockCase @case, DockHistory history, IReadOnlyList<LegMove> moves)
    {
        var (lowest, neutral, most, imbalance, weight, watts) = (double.PositiveInfinity, 0.0, 0.0, 0.0, 0.0, 0.0);
        var step = Math.Max(1, history.Whole.Count / MostJudged);
        var judged = history.Whole.Where((_, at) => at % step == 0).ToList();
        foreach (var quarter in judged)
        {
            var flow = @case.Solve(quarter.Draws.Select(draw => moves.Aggregate(draw, (one, move) => move.Of(one))), history.NoLoadVolts(@case, quarter));
            var amps = @case.Site.Supply.Legs.Select(leg => flow.State.AmpsInto(DockDefinition.SourcePoint, leg).Magnitude).ToList();
            var inNeutral = flow.State.AmpsInto(DockDefinition.SourcePoint, Leg.N).Magnitude;
            (lowest, most) = (Math.Min(lowest, flow.Lowest.Volts), Math.Max(most, inNeutral));
            (neutral, watts) = (neutral + inNeutral, watts + flow.LossWatts);
            (imbalance, weight) = (imbalance + amps.Max() - amps.Average(), weight + amps.Average());
        }
        var hours = history.Whole.Count * HistoryQuarter.Length.TotalHours;
        return new(lowest, neutral / judged.Count, most, weight > 0 ? imbalance / weight : 0, watts / judged.Count * hours / 1000);
    }
}
