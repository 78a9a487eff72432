namespace Farberth.Grid.Estimation;

/// <summary>The sums of weighted least squares of all lines of a tree, with the silent amps a eliminated.</summary>
/// <remarks>
/// One mean's lines, each divided by its standard deviation: z = H·x + B·a + noise, a ~ N(0, S). The best a for every x is
/// C⁻¹·Bᵀ·(z − H·x) with C = S⁻¹ + BᵀB, and what that leaves over is, with C = L·Lᵀ and V = L⁻¹·BᵀH, v = L⁻¹·Bᵀz,
///     A += HᵀH − VᵀV,   b += Hᵀz − Vᵀv
/// (matrix inversion lemma, textbook): the lines count with the covariance I + B·S·Bᵀ. S is the guess's variance times the
/// number of means for which a boat keeps its habits, because means whose guess is off alike tell no more than one.
/// </remarks>
sealed class JointsSums(JointUnknowns unknowns, JointsPrior prior, IReadOnlyList<double> noiseVolts)
{
    readonly double[][] a = [.. Enumerable.Range(1, unknowns.Count).Select(length => new double[length])];

    public double[] B { get; } = new double[unknowns.Count];

    /// <summary>A is symmetric.</summary>
    public double A(int row, int column) => row >= column ? a[row][column] : a[column][row];

    /// <summary>A copy of A's lower triangle.</summary>
    public double[,] LowerTriangle()
    {
        var copy = new double[a.Length, a.Length];
        for (var row = 0; row < a.Length; row++)
            for (var column = 0; column <= row; column++)
                copy[row, column] = a[row][column];
        return copy;
    }

    public void Add(MeterLines mean)
    {
        var silent = new SilentSums(mean.Silent, prior, unknowns.Count);
        foreach (var line in mean.All)
        {
            var weight = Weight(line);
            Add(line, weight);
            silent.Add(line, weight, line.Volts);
        }
        Eliminate(silent);
    }

    /// <summary>
    /// What is left over with the best a: z − hᵀx − bᵀa of each line, V, and the share of the line's noise that it is: the best a
    /// has taken the rest, w·bᵀC⁻¹b (the leverage, textbook).
    /// </summary>
    public IEnumerable<(int Outer, double Volts, double Share)> LeftOver(MeterLines mean, JointsPosterior x)
    {
        var silent = Silent(mean, x);
        var (amps, taken) = (silent.Best(), silent.Taken());
        return mean.All.Select(line => (
            line.Outer,
            line.Volts - x.Volts(line) - line.SilentFactors.Zip(amps, (b, a) => b * a).Sum(),
            1 - Weight(line) * taken(line.SilentFactors)));
    }

    /// <summary>The best a by silent leg, A.</summary>
    public double[] SilentAmps(MeterLines mean, JointsPosterior x) => Silent(mean, x).Best();

    SilentSums Silent(MeterLines mean, JointsPosterior x)
    {
        var silent = new SilentSums(mean.Silent, prior);
        if (mean.Silent.Count > 0)
            foreach (var line in mean.All)
                silent.Add(line, Weight(line), line.Volts - x.Volts(line));
        return silent;
    }

    double Weight(MeterLine line) =>
        1 / (prior.MeansAlike * (noiseVolts[line.Outer] * noiseVolts[line.Outer] + line.Variance));

    void Add(MeterLine line, double weight)
    {
        for (var i = 0; i < line.Places.Length; i++)
        {
            var (row, h) = (line.Places[i], weight * line.Factors[i]);
            B[row] += h * line.Volts;
            for (var j = 0; j < line.Places.Length; j++)
                if (line.Places[j] <= row)
                    a[row][line.Places[j]] += h * line.Factors[j];
        }
    }

    void Eliminate(SilentSums silent)
    {
        foreach (var (row, right) in silent.Eliminated())
            for (var i = 0; i < row.Length; i++)
            {
                var v = row[i];
                if (v == 0)
                    continue;
                B[i] -= v * right;
                CholeskyFactor.Subtract(a[i], v, row.AsSpan(0, i + 1));
            }
    }
}
