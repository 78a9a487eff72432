namespace Farberth.Grid.Estimation;

/// <summary>σ of the lines of each outer meter, V: what is left over in them.</summary>
/// <remarks>
/// Few lines are fitted too well to say much of the noise, so before them it is taken to be σ0, as if n0 lines had shown it (the
/// conjugate prior of a variance, textbook): σ² = (n0·σ0² + Σr²)/(n0 + n).
/// </remarks>
sealed class MeterNoise(int cables, JointsPrior prior)
{
    readonly double[] volts = [.. Enumerable.Repeat(prior.NoiseVolts, cables)];

    public IReadOnlyList<double> Volts => volts;

    public void Learn(IEnumerable<(int Outer, double Volts)> leftOver)
    {
        var (squares, counts) = (new double[volts.Length], new int[volts.Length]);
        foreach (var (outer, left) in leftOver)
        {
            squares[outer] += left * left;
            counts[outer]++;
        }
        for (var meter = 0; meter < volts.Length; meter++)
            volts[meter] = Math.Sqrt((prior.NoiseLines * prior.NoiseVolts * prior.NoiseVolts + squares[meter])
                / (prior.NoiseLines + counts[meter]));
    }

    /// <summary>Goes on from what was learned.</summary>
    public void Resume(double[] learned) => learned.CopyTo(volts, 0);
}
