namespace Farberth.Grid.Estimation;

/// <summary>A conductor of a cable.</summary>
/// <param name="Conductor">0 for L1; the number of legs for N.</param>
public readonly record struct CableConductor(int Cable, int Conductor);

/// <summary>The most likely x for one choice of conductors with a bad joint: (A + Π)·x = b, Π the prior's precision.</summary>
/// <remarks>
/// Every ΔR is in x: of good conductors with the prior N(0, s²) of ordinary joints and unequal warmth, of bad ones with a
/// wide one. With P = (A + Π)⁻¹, letting a good one (i) go bad lowers χ² of readings and prior together by
///     x_i²/(s² − P_ii)
/// (widening the prior of one unknown is an update of rank one), and its ΔR then stands as many standard deviations above
/// 0, squared, if its variance is P_ii' + s²: by the readings, and by all that a good one may be.
/// </remarks>
sealed class JointsPosterior
{
    /// <summary>s² − P_ii of a conductor of which nothing was read is 0 but for rounding; ohm².</summary>
    const double Nothing = 1e-16;

    readonly double[] x;
    readonly JointUnknowns unknowns;
    readonly Func<CableConductor, double> goodSd;
    readonly Lazy<double[,]> covariance;

    public JointsPosterior(JointsSums sums, JointUnknowns unknowns, double[] priorSd, Func<CableConductor, double> goodSd)
    {
        (this.unknowns, this.goodSd) = (unknowns, goodSd);
        var matrix = sums.LowerTriangle();
        for (var i = 0; i < priorSd.Length; i++)
            matrix[i, i] += 1 / (priorSd[i] * priorSd[i]);
        var factor = new CholeskyFactor(matrix);
        x = factor.Solve(sums.B);
        covariance = new(factor.Inverse);
    }

    public double this[int unknown] => x[unknown];

    public double Covariance(int one, int other) => covariance.Value[one, other];

    /// <summary>hᵀx.</summary>
    public double Volts(MeterLine line)
    {
        var volts = 0.0;
        for (var i = 0; i < line.Places.Length; i++)
            volts += line.Factors[i] * x[line.Places[i]];
        return volts;
    }

    /// <summary>ΔR.</summary>
    public double Ohms(CableConductor at) => x[unknowns.Excess(at)];

    /// <summary>Of a bad one.</summary>
    public double OhmsSd(CableConductor at) => Math.Sqrt(Variance(at) + goodSd(at) * goodSd(at));

    /// <summary>By how much χ² would fall if a good one were let go bad; 0 for one with too few ohms.</summary>
    public double FallOfChiSquared(CableConductor at)
    {
        var learned = goodSd(at) * goodSd(at) - Variance(at);
        return Ohms(at) > 0 && learned > Nothing ? Ohms(at) * Ohms(at) / learned : 0;
    }

    double Variance(CableConductor at) => Covariance(unknowns.Excess(at), unknowns.Excess(at));
}
