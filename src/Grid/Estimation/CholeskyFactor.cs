namespace Farberth.Grid.Estimation;

/// <summary>
/// A symmetric positive definite matrix as L·Lᵀ, L lower triangular:
///   L_jj = √(A_jj − Σ_(k&lt;j) L_jk²),   L_ij = (A_ij − Σ_(k&lt;j) L_ik·L_jk)/L_jj   (textbook).
/// </summary>
sealed class CholeskyFactor
{
    readonly double[,] lower;

    /// <param name="matrix">Overwritten.</param>
    public CholeskyFactor(double[,] matrix)
    {
        lower = matrix;
        for (var j = 0; j < Size; j++)
            for (var i = j; i < Size; i++)
            {
                var rest = matrix[i, j];
                for (var k = 0; k < j; k++)
                    rest -= lower[i, k] * lower[j, k];
                lower[i, j] = i == j ? Math.Sqrt(rest) : rest / lower[j, j];
            }
    }

    int Size => lower.GetLength(0);

    /// <summary>x of L·Lᵀ·x = right.</summary>
    public double[] Solve(double[] right)
    {
        var x = (double[])right.Clone();
        for (var i = 0; i < Size; i++)
        {
            for (var k = 0; k < i; k++)
                x[i] -= lower[i, k] * x[k];
            x[i] /= lower[i, i];
        }
        for (var i = Size - 1; i >= 0; i--)
        {
            for (var k = i + 1; k < Size; k++)
                x[i] -= lower[k, i] * x[k];
            x[i] /= lower[i, i];
        }
        return x;
    }
}
