namespace Farberth.Monitoring.Advice.Covering;

/// <summary>A set of requests and what is known of its cost.</summary>
/// <param name="Amps">By lever.</param>
/// <param name="IsMet">Every limit is met; else all that can be asked does not do.</param>
/// <param name="Cost">In the problem's own cost.</param>
/// <param name="LeastCost">No cover costs less.</param>
sealed record Cover(double[] Amps, bool IsMet, double Cost, double LeastCost);

/// <summary>
/// Branch and bound over the levers. A branch is cut where what it has spent and what the Lagrangian bound says of the rest are not
/// better than the best cover by <see cref="Tolerance"/>, or where the rest cannot meet a limit any more. Levers that the bound decides
/// alone (an amp of them costs far more than it does) are left out beforehand. Bounded by a number of branches; then the best so far stands.
/// </summary>
sealed class CoverSearch
{
    /// <summary>A share: what a boat switches off is not known more exactly.</summary>
    const double Tolerance = 0.01;

    const int MostBranches = 20_000;

    readonly CoverProblem problem;
    readonly CoverBound bound;
    readonly int[] levers;
    readonly double[] restTerms;
    readonly double[][] restReach;
    readonly double[] amps;
    double[] best;
    double bestCost;
    int branches;

    CoverSearch(CoverProblem problem, CoverBound bound, double[] start)
    {
        (this.problem, this.bound, best) = (problem, bound, start);
        bestCost = problem.IsMet(start) ? problem.Cost(start) : double.PositiveInfinity;
        amps = new double[problem.Levers];
        levers = [.. Enumerable.Range(0, problem.Levers).Where(MayHelp).OrderBy(lever => bound.Term(lever)).ThenBy(bound.Reduced)];
        restTerms = Suffix(lever => bound.Term(lever));
        restReach = [.. problem.Effect.Select(effect => Suffix(lever => Math.Max(0, effect[lever]) * problem.Highest(lever)))];
    }

    /// <summary>The cheapest cover, or one close to it; where there is none, all that helps.</summary>
    public static Cover Solve(CoverProblem problem)
    {
        var start = CoverStart.Fill(problem, lever => Enumerable.Range(0, problem.Limits)
            .Where(limit => problem.Needed[limit] > 0).Sum(limit => problem.Effect[limit][lever] / problem.Scale(limit)));
        var everything = Enumerable.Range(0, problem.Levers).Select(problem.Highest).ToArray();
        var bound = new CoverBound(problem, problem.Cost(problem.IsMet(start) ? start : everything));
        var guided = CoverStart.Fill(problem, lever => problem.Weight[lever] - bound.Reduced(lever));
        if (problem.IsMet(guided) && (!problem.IsMet(start) || problem.Cost(guided) < problem.Cost(start)))
            start = guided;
        if (problem.IsMet(start))
            start = CoverExchange.Improve(problem, start);
        var search = new CoverSearch(problem, bound, start);
        search.Descend(0, [.. problem.Needed], 0);
        return new(search.best, problem.IsMet(search.best), problem.Cost(search.best), bound.Least);
    }

    /// <summary>With the smallest request of it the bound is not already past the best cover.</summary>
    bool MayHelp(int lever) => problem.Highest(lever) > 0
        && bound.Least - bound.Term(lever) + bound.Reduced(lever) * (bound.Reduced(lever) > 0 ? problem.LeastAmps : problem.Highest(lever)) < bestCost;

    double[] Suffix(Func<int, double> term)
    {
        var sums = new double[levers.Length + 1];
        for (var at = levers.Length - 1; at >= 0; at--)
            sums[at] = sums[at + 1] + term(levers[at]);
        return sums;
    }

    void Descend(int at, double[] missing, double spent)
    {
        if (++branches > MostBranches)
            return;
        if (missing.All(one => one <= 1e-9) && problem.IsMet(amps))
        {
            if (spent < bestCost)
                (best, bestCost) = ([.. amps], spent);
            return;
        }
        if (at == levers.Length || IsHopeless(at, missing, spent))
            return;
        var lever = levers[at];
        foreach (var choice in InOrder(lever))
        {
            amps[lever] = choice;
            var cost = spent + (choice > 0 ? problem.Weight[lever] * choice + (IsFirstOfGroup(at) ? problem.GroupAmps : 0) : 0);
            Descend(at + 1, [.. missing.Select((one, limit) => one - problem.Effect[limit][lever] * choice)], cost);
        }
        amps[lever] = 0;
    }

    bool IsHopeless(int at, double[] missing, double spent)
    {
        var least = spent + restTerms[at];
        for (var limit = 0; limit < missing.Length; limit++)
        {
            if (missing[limit] > restReach[limit][at] + 1e-9)
                return true;
            least += bound.Multipliers[limit] * missing[limit];
        }
        return least >= bestCost * (1 - Tolerance);
    }

    /// <summary>The choice that the bound prefers first: all where an amp pays, none where it does not.</summary>
    IEnumerable<double> InOrder(int lever) => bound.Reduced(lever) < 0 ? problem.Choices(lever).Reverse() : problem.Choices(lever);

    bool IsFirstOfGroup(int at)
    {
        for (var earlier = 0; earlier < at; earlier++)
            if (amps[levers[earlier]] > 0 && problem.Group[levers[earlier]] == problem.Group[levers[at]])
                return false;
        return true;
    }
}
