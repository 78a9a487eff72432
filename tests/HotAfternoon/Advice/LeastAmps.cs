namespace Farberth.HotAfternoon.Tests.Advice;

/// <summary>
/// The true optimum as a linear program, by the simplex method on its dual: no code of the planner's.
///   least Σ x_j with Σ_j e_ℓj·x_j ≥ r_ℓ, 0 ≤ x_j ≤ d_j;   dual: most r·y − d·z with Eᵀy − z ≤ 1, y, z ≥ 0, which starts at 0.
/// A request in whole steps and of a least size can only cost more. Method: Dantzig's tableau, with Bland's rule against cycles.
/// </summary>
static class LeastAmps
{
    const int MostBranches = 5_000;

    /// <summary>With requests that are nothing or at least so many amps: branch and bound on the linear program.</summary>
    /// <returns>Null where all together do not do.</returns>
    public static double[]? Plan(double[][] effect, double[] needed, double[] most, double leastAmps)
    {
        var (best, plan, branches) = (double.PositiveInfinity, (double[]?)null, 0);
        var open = new PriorityQueue<bool?[], double>();
        open.Enqueue(new bool?[most.Length], 0);
        while (open.TryDequeue(out var on, out var bound) && bound < best - 1e-6)
        {
            if (++branches > MostBranches)
                throw new InvalidOperationException("the true optimum was not found");
            double Base(int lever) => on[lever] == true ? leastAmps : 0;
            double[] left = [.. needed.Select((need, limit) => need - effect[limit].Select((e, lever) => e * Base(lever)).Sum())];
            double[] room = [.. most.Select((amps, lever) => on[lever] == false || amps < leastAmps ? 0 : amps - Base(lever))];
            if (Solve(effect, left, room) is not { } solved)
                continue;
            var cost = solved.Amps.Sum() + Enumerable.Range(0, most.Length).Sum(Base);
            var between = Enumerable.Range(0, most.Length).Where(lever => on[lever] is null && solved.Amps[lever] > 1e-7 && solved.Amps[lever] < leastAmps - 1e-7).Cast<int?>().FirstOrDefault();
            if (between is not { } branch)
                (best, plan) = cost < best ? (cost, [.. solved.Amps.Select((amps, lever) => amps + Base(lever))]) : (best, plan);
            else
                foreach (var choice in new[] { true, false })
                {
                    bool?[] next = [.. on];
                    next[branch] = choice;
                    open.Enqueue(next, Math.Max(bound, cost));
                }
        }
        return plan;
    }

    /// <returns>Null where all together do not do.</returns>
    public static double? Of(double[][] effect, double[] needed, double[] most) => Solve(effect, needed, most)?.Amps.Sum();

    /// <summary>The amps are the prices of the dual's rows: what stands in the last line below their slacks.</summary>
    public static (double[] Amps, double Total)? Solve(double[][] effect, double[] needed, double[] most)
    {
        var (levers, limits) = (most.Length, needed.Length);
        var tableau = new double[levers + 1, limits + levers + levers + 1];
        for (var row = 0; row < levers; row++)
        {
            for (var limit = 0; limit < limits; limit++)
                tableau[row, limit] = effect[limit][row];
            tableau[row, limits + row] = -1;
            tableau[row, limits + levers + row] = 1;
            tableau[row, limits + 2 * levers] = 1;
        }
        for (var limit = 0; limit < limits; limit++)
            tableau[levers, limit] = -needed[limit];
        for (var lever = 0; lever < levers; lever++)
            tableau[levers, limits + lever] = most[lever];
        if (!Climb(tableau, levers, limits + 2 * levers))
            return null;
        double[] amps = [.. Enumerable.Range(0, levers).Select(lever => Math.Max(0, tableau[levers, limits + levers + lever]))];
        return (amps, tableau[levers, limits + 2 * levers]);
    }

    static bool Climb(double[,] tableau, int rows, int columns)
    {
        while (Enumerable.Range(0, columns).Where(column => tableau[rows, column] < -1e-9).Cast<int?>().FirstOrDefault() is { } entering)
        {
            var candidates = Enumerable.Range(0, rows).Where(row => tableau[row, entering] > 1e-9).ToList();
            if (candidates.Count == 0)
                return false;
            Pivot(tableau, candidates.MinBy(row => (tableau[row, columns] / tableau[row, entering], row)), entering, rows, columns);
        }
        return true;
    }

    static void Pivot(double[,] tableau, int leaving, int entering, int rows, int columns)
    {
        var pivot = tableau[leaving, entering];
        for (var column = 0; column <= columns; column++)
            tableau[leaving, column] /= pivot;
        for (var row = 0; row <= rows; row++)
        {
            if (row == leaving || tableau[row, entering] is not (not 0 and var factor))
                continue;
            for (var column = 0; column <= columns; column++)
                tableau[row, column] -= factor * tableau[leaving, column];
        }
    }
}
