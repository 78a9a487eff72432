namespace Farberth.Grid.Estimation;

/// <summary>σ of the lines of each outer meter, V: what is left over in them.</summary>
/// <remarks>
/// Few lines are fitted too well to say much of the noise, so before them it is taken to be σ0, as if n0 lines had shown it (the
/// conjugate prior of a variance, textbook): σ² = (n0·σ0² + Σr²)/(n0 + n). The amps of silent pedestals are fitted anew to the few lines of each
/// mean, and take a share h of their noise away: n = Σ(1 − h). Else the lines about silent meters look the surest of all. Lines next to each
/// other share a meter's noise, of which a path takes less than h: σ then comes out up to a third too large, on the safe side.
/// </remarks>
sealed class MeterNoise(int cables, JointsPrior prior)
{
    readonly double[] volts = [.. Enumerable.Repeat(prior.NoiseVolts, cables)];

    public IReadOnlyList<double> Volts => volts;

    public void Learn(IEnumerable<(int Outer, double Volts, double Share)> leftOver)
    {
        var (squares, counts) = (new double[volts.Length], new double[volts.Length]);
        foreach (var (outer, left, share) in leftOver)
        {
            squares[outer] += left * left;
            counts[outer] += share;
        }
        for (var meter = 0; meter < volts.Length; meter++)
            volts[meter] = Math.Sqrt((prior.NoiseLines * prior.NoiseVolts * prior.NoiseVolts + squares[meter])
                / (prior.NoiseLines + counts[meter]));
    }

    /// <summary>Goes on from what was learned.</summary>
    public void Resume(double[] learned) => learned.CopyTo(volts, 0);
}
