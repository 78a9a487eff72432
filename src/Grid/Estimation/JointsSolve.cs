namespace Farberth.Grid.Estimation;

/// <summary>Solves a few normal equations, A·x = b with A symmetric and positive definite.</summary>
/// <remarks>
/// Cholesky: A = L·Lᵀ with L lower triangular, row by row,
///   L_ij = (A_ij − Σ_{k&lt;j} L_ik·L_jk) / L_jj,   L_ii = √(A_ii − Σ_{k&lt;i} L_ik²),
/// then L·y = b forwards and Lᵀ·x = y backwards. A unit vector for b gives a column of A⁻¹, the covariance.
/// (Golub and Van Loan, Matrix Computations, ch. 4; from memory.)
/// </remarks>
static class JointsSolve
{
    /// <summary>Writes L over A's lower triangle.</summary>
    /// <param name="a">Square; only its lower triangle is read.</param>
    public static void Factor(double[,] a)
    {
        for (var i = 0; i < a.GetLength(0); i++)
            for (var j = 0; j <= i; j++)
            {
                var rest = a[i, j];
                for (var k = 0; k < j; k++)
                    rest -= a[i, k] * a[j, k];
                a[i, j] = i == j ? Math.Sqrt(rest) : rest / a[j, j];
            }
    }

    /// <param name="factor">As <see cref="Factor"/> leaves it.</param>
    public static double[] Solve(double[,] factor, ReadOnlySpan<double> b)
    {
        var x = b.ToArray();
        for (var i = 0; i < x.Length; i++)
        {
            for (var k = 0; k < i; k++)
                x[i] -= factor[i, k] * x[k];
            x[i] /= factor[i, i];
        }
        for (var i = x.Length - 1; i >= 0; i--)
        {
            for (var k = i + 1; k < x.Length; k++)
                x[i] -= factor[k, i] * x[k];
            x[i] /= factor[i, i];
        }
        return x;
    }

    /// <summary>A⁻¹_ii, the variance of one unknown.</summary>
    public static double Variance(double[,] factor, int unknown)
    {
        var unit = new double[factor.GetLength(0)];
        unit[unknown] = 1;
        return Solve(factor, unit)[unknown];
    }
}
