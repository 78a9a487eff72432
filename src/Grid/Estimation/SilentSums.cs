namespace Farberth.Grid.Estimation;

/// <summary>C = S⁻¹ + BᵀB, BᵀH and Bᵀz of one mean; symbols as in <see cref="JointsSums"/>.</summary>
sealed class SilentSums
{
    readonly double[,] c;
    readonly double[][] bh;
    readonly double[] bz;

    /// <param name="count">Of unknowns in x; 0 where nothing will be <see cref="Eliminated"/>.</param>
    public SilentSums(IReadOnlyList<SilentLeg> silent, JointsPrior prior, int count = 0)
    {
        c = new double[silent.Count, silent.Count];
        bh = [.. silent.Select(_ => new double[count])];
        bz = new double[silent.Count];
        for (var s = 0; s < silent.Count; s++)
            c[s, s] = 1 / (silent[s].AmpsSd * silent[s].AmpsSd * prior.HabitMeans);
    }

    public void Add(MeterLine line, double weight, double volts)
    {
        for (var s = 0; s < bz.Length; s++)
        {
            var b = weight * line.SilentFactors[s];
            if (b == 0)
                continue;
            bz[s] += b * volts;
            for (var other = 0; other < bz.Length; other++)
                c[s, other] += b * line.SilentFactors[other];
            for (var i = 0; i < line.Places.Length && bh[s].Length > 0; i++)
                bh[s][line.Places[i]] += b * line.Factors[i];
        }
    }

    /// <summary>C⁻¹·Bᵀz, A: by how much the silent draw more than was guessed.</summary>
    public double[] Best() => new CholeskyFactor(c).Solve(bz);

    /// <summary>bᵀC⁻¹b, for any b.</summary>
    public Func<double[], double> Taken()
    {
        var factor = new CholeskyFactor(c);
        return b => b.Zip(factor.Solve(b), (one, other) => one * other).Sum();
    }

    /// <summary>The rows of V, each with its v. To be asked once: it works in place.</summary>
    public IEnumerable<(double[] Row, double Right)> Eliminated()
    {
        var factor = new CholeskyFactor(c);
        factor.SolveLower(bz);
        factor.SolveLower(bh);
        return bh.Zip(bz);
    }
}
