namespace Farberth.Monitoring.Advice.Covering;

/// <summary>Makes a cover cheaper by exchange: one lever asked for less or for nothing, another for just what is then missing.</summary>
static class CoverExchange
{
    const int MostExchanges = 200;

    /// <param name="amps">A cover.</param>
    public static double[] Improve(CoverProblem problem, double[] amps)
    {
        for (var exchange = 0; exchange < MostExchanges; exchange++)
        {
            var cost = problem.Cost(amps);
            var best = Neighbours(problem, amps).Select(other => (Amps: other, Cost: problem.Cost(other)))
                .Where(other => other.Cost < cost - 1e-9 && problem.IsMet(other.Amps)).DefaultIfEmpty((Amps: amps, Cost: cost)).MinBy(other => other.Cost);
            if (best.Amps == amps)
                return amps;
            amps = best.Amps;
        }
        return amps;
    }

    static IEnumerable<double[]> Neighbours(CoverProblem problem, double[] amps)
    {
        foreach (var down in Enumerable.Range(0, problem.Levers).Where(lever => amps[lever] > 0))
            foreach (var lower in Lower(problem, down, amps[down]))
            {
                var less = With(amps, down, lower);
                var missing = Enumerable.Range(0, problem.Limits).Select(limit => problem.Missing(limit, less)).ToArray();
                if (missing.All(one => one <= 0))
                    yield return less;
                for (var up = 0; up < problem.Levers; up++)
                    if (up != down && Enough(problem, up, less[up], missing) is { } raised)
                        yield return With(less, up, raised);
            }
    }

    /// <summary>Nothing, half, and one step less.</summary>
    static IEnumerable<double> Lower(CoverProblem problem, int lever, double amps)
    {
        var lower = problem.Choices(lever).Where(choice => choice < amps).ToList();
        return new[] { lower[0], lower[lower.Count / 2], lower[^1] }.Distinct();
    }

    /// <summary>The smallest choice of a lever that brings what is missing; null where there is none.</summary>
    static double? Enough(CoverProblem problem, int lever, double present, double[] missing)
    {
        var more = 0.0;
        for (var limit = 0; limit < missing.Length; limit++)
            if (missing[limit] > 0)
                more = problem.Effect[limit][lever] > 0 ? Math.Max(more, missing[limit] / problem.Effect[limit][lever]) : double.PositiveInfinity;
        if (present + more > problem.Highest(lever) + 1e-9)
            return null;
        var steps = Math.Ceiling((present + more - problem.LeastAmps) / problem.StepAmps - 1e-9);
        return Math.Min(problem.Highest(lever), problem.LeastAmps + problem.StepAmps * Math.Max(0, steps));
    }

    static double[] With(double[] amps, int lever, double value)
    {
        double[] changed = [.. amps];
        changed[lever] = value;
        return changed;
    }
}
