using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

/// <summary>One choice of conductors with a joint, solved; symbols as in <see cref="JointsFit"/>.</summary>
sealed class JointsModel
{
    readonly CableResistanceSums sums;
    readonly int[] at;
    readonly double[,] factor;
    readonly double[] x;

    /// <param name="variance">σ²·K, V².</param>
    public JointsModel(CableResistanceSums sums, JointsPrior prior, double variance, Leg[] chosen)
    {
        (this.sums, Chosen) = (sums, chosen);
        at = [CableResistanceSums.Length, .. Enumerable.Range(0, sums.Legs).Select(sums.Gain), .. chosen.Select(sums.Excess)];
        double PriorSd(int row) => row == 0 ? prior.LengthShareSd : row <= sums.Legs ? prior.GainShareSd : prior.ExcessOhmsSd;
        factor = new double[at.Length, at.Length];
        var b = new double[at.Length];
        for (var row = 0; row < at.Length; row++)
        {
            b[row] = sums.B(at[row]) / variance;
            for (var column = 0; column <= row; column++)
                factor[row, column] = sums.A(at[row], at[column]) / variance;
            factor[row, row] += 1 / (PriorSd(row) * PriorSd(row));
        }
        JointsSolve.Factor(factor);
        x = JointsSolve.Solve(factor, b);
        ChiSquared = sums.SquaredVolts / variance - b.Zip(x, (one, other) => one * other).Sum();
    }

    public Leg[] Chosen { get; }

    public double ChiSquared { get; }

    /// <summary>ε.</summary>
    public double LengthShare => x[0];

    /// <summary>ΔR of a chosen conductor.</summary>
    public double Ohms(Leg conductor) => x[Place(conductor)];

    public double OhmsSd(Leg conductor) => Math.Sqrt(JointsSolve.Variance(factor, Place(conductor)));

    /// <summary>Σ (z − hᵀ·x)² = c − 2·bᵀ·x + xᵀ·A·x, V².</summary>
    public double LeftOver
    {
        get
        {
            var sum = sums.SquaredVolts;
            for (var row = 0; row < at.Length; row++)
            {
                sum -= 2 * sums.B(at[row]) * x[row];
                for (var column = 0; column < at.Length; column++)
                    sum += x[row] * sums.A(at[row], at[column]) * x[column];
            }
            return sum;
        }
    }

    int Place(Leg conductor) => 1 + sums.Legs + Array.IndexOf(Chosen, conductor);
}
