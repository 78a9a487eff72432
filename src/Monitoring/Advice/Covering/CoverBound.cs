namespace Farberth.Monitoring.Advice.Covering;

/// <summary>
/// What the cheapest cover costs at least, by Lagrangian relaxation: for any λ ≥ 0
///   L(λ) = λ·r + Σ_j min(0, (w_j − λ·e_j)·m_j + f_j) ≤ the cheapest cost,
/// f_j = F / (levers of its group). The inner minimum lies at 0 or at m_j, since it is linear from x_min on. λ climbs along the
/// subgradient r − E·x(λ) with Polyak's step towards a known upper bound. Source for the method: Fisher, The Lagrangian
/// relaxation method for solving integer programming problems, Management Science 27 (1981), from memory.
/// </summary>
sealed class CoverBound
{
    const int Rounds = 1000;

    readonly CoverProblem problem;
    readonly double[] groupShare;

    /// <param name="upper">The cost of a known cover.</param>
    public CoverBound(CoverProblem problem, double upper)
    {
        this.problem = problem;
        var sizes = problem.Group.GroupBy(group => group).ToDictionary(group => group.Key, group => group.Count());
        groupShare = [.. problem.Group.Select(group => problem.GroupAmps / sizes[group])];
        Multipliers = Climb(upper);
        Least = Value(Multipliers, new double[problem.Limits]);
    }

    /// <summary>λ, by limit.</summary>
    public double[] Multipliers { get; }

    /// <summary>L(λ): no cover costs less.</summary>
    public double Least { get; }

    /// <summary>w_j − λ·e_j: what an amp of this lever costs beyond its use.</summary>
    public double Reduced(int lever) => Reduced(lever, Multipliers);

    /// <summary>The lever's term of L(λ), 0 or less.</summary>
    public double Term(int lever) => Term(lever, Multipliers);

    double Reduced(int lever, double[] λ)
    {
        var reduced = problem.Weight[lever];
        for (var limit = 0; limit < λ.Length; limit++)
            reduced -= λ[limit] * problem.Effect[limit][lever];
        return reduced;
    }

    double Term(int lever, double[] λ) => Math.Min(0, Reduced(lever, λ) * problem.Highest(lever) + groupShare[lever]);

    /// <param name="slope">Overwritten: the subgradient.</param>
    double Value(double[] λ, double[] slope)
    {
        problem.Needed.CopyTo(slope, 0);
        var value = λ.Zip(problem.Needed, (one, needed) => one * needed).Sum();
        for (var lever = 0; lever < problem.Levers; lever++)
        {
            if (Term(lever, λ) is not (< 0 and var term))
                continue;
            value += term;
            for (var limit = 0; limit < λ.Length; limit++)
                slope[limit] -= problem.Effect[limit][lever] * problem.Highest(lever);
        }
        return value;
    }

    double[] Climb(double upper)
    {
        var (λ, slope) = (new double[problem.Limits], new double[problem.Limits]);
        double[] squaredScale = [.. Enumerable.Range(0, problem.Limits).Select(limit => problem.Scale(limit) * problem.Scale(limit))];
        var (best, highest) = (λ.ToArray(), 0.0);
        for (var round = 0; round < Rounds; round++)
        {
            var value = Value(λ, slope);
            if (value > highest)
                (best, highest) = (λ.ToArray(), value);
            var length = slope.Zip(squaredScale, (g, squared) => g * g / squared).Sum();
            if (length < 1e-12 || upper - value < 1e-9)
                break;
            var step = (upper - value) / length * (round < Rounds / 2 ? 1 : 0.2);
            for (var limit = 0; limit < λ.Length; limit++)
                λ[limit] = Math.Max(0, λ[limit] + step * slope[limit] / squaredScale[limit]);
        }
        return best;
    }
}
