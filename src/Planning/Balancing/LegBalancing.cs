using Farberth.Monitoring.Site;
using Farberth.Planning.Survey;

namespace Farberth.Planning.Balancing;

/// <summary>Finds the moves by an integer program; the load flow judges them over the whole record.</summary>
public static class LegBalancing
{
    const double EnoughShare = 0.8, LeastVoltsWorthAMove = 0.1;

    /// <param name="history">It has a whole quarter.</param>
    /// <param name="mostMoves">Steps that are looked at.</param>
    /// <param name="limit">For each of the few programs of a step.</param>
    public static LegBalance Of(SiteDefinition site, DockHistory history, int mostMoves, TimeSpan limit, CancellationToken stop = default)
    {
        var record = new LegRecord(site, history);
        var (before, program, steps) = (record.With([]), new LegProgram(record), new List<BalanceStep>());
        for (var moves = 1; moves <= mostMoves && site.Supply.Legs.Count > 1 && !stop.IsCancellationRequested; moves++)
        {
            program.Look(moves, limit, stop);
            if (program.Best.Moves.Count == moves) // else fewer do as well, though one more may not: two outlets may have to change places
                steps.Add(new(program.Best.Moves, record.With(program.Best.Moves)));
        }
        return new(history.Dock, before, steps, Advised(before, steps));
    }

    static BalanceStep? Advised(BalanceOverTime before, List<BalanceStep> steps)
    {
        double Gain(BalanceStep step) => step.After.LowestVolts - before.LowestVolts;
        var most = steps.Select(Gain).DefaultIfEmpty(0).Max();
        return steps.Find(step => Gain(step) >= Math.Max(LeastVoltsWorthAMove, EnoughShare * most));
    }
}
