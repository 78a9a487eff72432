namespace Farberth.Monitoring.Advice.Covering;

/// <summary>
/// The smallest set of requests as an integer program. Request x_j amps of lever j so that every limit ℓ comes back:
///   minimise Σ_j w_j·x_j + F·(number of groups with any x_j &gt; 0)
///   subject to Σ_j e_ℓj·x_j ≥ r_ℓ for each ℓ,   x_j ∈ {0} ∪ {x_min, x_min + Δ, …, m_j}.
/// e_ℓj may be negative: on a three-wire dock an amp less on one leg costs the other leg some volts.
/// </summary>
/// <param name="Effect">e, by limit and then by lever; any unit, the same within a limit.</param>
/// <param name="Needed">r, by limit.</param>
/// <param name="Weight">w, at least 1.</param>
/// <param name="Most">m, A; a lever whose m is below x_min cannot be used.</param>
/// <param name="Group">Whose lever it is; each group that is asked costs <paramref name="GroupAmps"/>.</param>
/// <param name="GroupAmps">F, A.</param>
/// <param name="LeastAmps">x_min.</param>
/// <param name="StepAmps">Δ.</param>
sealed record CoverProblem(
    double[][] Effect, double[] Needed, double[] Weight, double[] Most, int[] Group, double GroupAmps, double LeastAmps, double StepAmps)
{
    const double Rounding = 1e-9;
    const double LeastScale = 1e-6;

    public int Levers => Most.Length;

    public int Limits => Needed.Length;

    /// <summary>What a limit is counted in, so that volts and amps are alike: what it needs, but no less than an amp's best effect.</summary>
    public double Scale(int limit) => Math.Max(Math.Abs(Needed[limit]), Effect[limit].Select(Math.Abs).DefaultIfEmpty(1).Max()) is var scale && scale > LeastScale
        ? scale : LeastScale;

    /// <summary>The largest amps that may be asked of a lever; 0 where none.</summary>
    public double Highest(int lever) => Most[lever] < LeastAmps - Rounding
        ? 0 : LeastAmps + StepAmps * Math.Floor((Most[lever] - LeastAmps) / StepAmps + Rounding);

    /// <summary>What may be asked of a lever, the smallest first; 0 is always one of it.</summary>
    public double[] Choices(int lever)
    {
        var highest = Highest(lever);
        var many = highest <= 0 ? 0 : 1 + (int)Math.Round((highest - LeastAmps) / StepAmps);
        return [0, .. Enumerable.Range(0, many).Select(at => LeastAmps + at * StepAmps)];
    }

    public double Cost(double[] amps)
    {
        var groups = new HashSet<int>();
        var cost = 0.0;
        for (var lever = 0; lever < amps.Length; lever++)
            if (amps[lever] > 0)
                cost += Weight[lever] * amps[lever] + (groups.Add(Group[lever]) ? GroupAmps : 0);
        return cost;
    }

    /// <summary>What limit ℓ still lacks; 0 or less: it is met.</summary>
    public double Missing(int limit, double[] amps)
    {
        var missing = Needed[limit];
        for (var lever = 0; lever < amps.Length; lever++)
            missing -= Effect[limit][lever] * amps[lever];
        return missing;
    }

    public bool IsMet(double[] amps)
    {
        for (var limit = 0; limit < Limits; limit++)
            if (Missing(limit, amps) > Rounding * Math.Max(1, Math.Abs(Needed[limit])))
                return false;
        return true;
    }
}
