namespace Farberth.Monitoring.Advice.Covering;

/// <summary>Good covers found quickly: lever after lever by what an amp of it does, then everything taken back that is not needed.</summary>
static class CoverStart
{
    /// <param name="use">What an amp of a lever is worth; higher is asked first.</param>
    /// <returns>Not a cover where all of them together are none.</returns>
    public static double[] Fill(CoverProblem problem, Func<int, double> use)
    {
        var amps = new double[problem.Levers];
        foreach (var lever in Enumerable.Range(0, problem.Levers).OrderByDescending(lever => use(lever) / problem.Weight[lever]))
        {
            if (problem.IsMet(amps))
                break;
            if (use(lever) > 0)
                amps[lever] = problem.Highest(lever);
        }
        return Trimmed(problem, amps);
    }

    /// <summary>Each lever down as far as the limits allow, the least useful first, twice.</summary>
    static double[] Trimmed(CoverProblem problem, double[] amps)
    {
        if (!problem.IsMet(amps))
            return amps;
        var order = Enumerable.Range(0, problem.Levers).Where(lever => amps[lever] > 0).OrderBy(lever => amps[lever]).ToList();
        foreach (var lever in order.Concat(order))
        {
            var before = amps[lever];
            foreach (var lower in problem.Choices(lever).Where(choice => choice < before))
            {
                amps[lever] = lower;
                if (problem.IsMet(amps))
                    break;
                amps[lever] = before;
            }
        }
        return amps;
    }
}
