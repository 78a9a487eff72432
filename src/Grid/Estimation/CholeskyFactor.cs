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

    /// <summary>L⁻¹·y, written over y.</summary>
    public void SolveLower(double[] y)
    {
        for (var i = 0; i < Size; i++)
        {
            for (var k = 0; k < i; k++)
                y[i] -= lower[i, k] * y[k];
            y[i] /= lower[i, i];
        }
    }

    /// <summary>The same for many columns at once; <paramref name="rows"/> holds them row by row.</summary>
    public void SolveLower(double[][] rows)
    {
        for (var i = 0; i < Size; i++)
            for (var column = 0; column < rows[i].Length; column++)
            {
                var rest = rows[i][column];
                for (var k = 0; k < i; k++)
                    rest -= lower[i, k] * rows[k][column];
                rows[i][column] = rest / lower[i, i];
            }
    }

    /// <summary>(L·Lᵀ)⁻¹.</summary>
    public double[,] Inverse()
    {
        var inverse = new double[Size, Size];
        for (var column = 0; column < Size; column++)
        {
            var unit = new double[Size];
            unit[column] = 1;
            var solved = Solve(unit);
            for (var row = 0; row < Size; row++)
                inverse[row, column] = solved[row];
        }
        return inverse;
    }

    /// <summary>x of L·Lᵀ·x = right.</summary>
    public double[] Solve(double[] right)
    {
        var x = (double[])right.Clone();
        SolveLower(x);
        for (var i = Size - 1; i >= 0; i--)
        {
            for (var k = i + 1; k < Size; k++)
                x[i] -= lower[k, i] * x[k];
            x[i] /= lower[i, i];
        }
        return x;
    }
}
