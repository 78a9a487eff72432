using System.Numerics;

namespace Farberth.Grid.Estimation;

/// <summary>
/// A symmetric positive definite matrix as L·Lᵀ, L lower triangular:
///   L_jj = √(A_jj − Σ_(k&lt;j) L_jk²),   L_ij = (A_ij − Σ_(k&lt;j) L_ik·L_jk)/L_jj   (textbook).
/// </summary>
sealed class CholeskyFactor
{
    readonly double[][] lower;
    readonly double[][] upper; // Lᵀ, so that both ways are walked along rows

    /// <param name="matrix">Its lower triangle is read.</param>
    public CholeskyFactor(double[,] matrix)
    {
        Size = matrix.GetLength(0);
        lower = [.. Enumerable.Range(0, Size).Select(row => new double[row + 1])];
        for (var j = 0; j < Size; j++)
            for (var i = j; i < Size; i++)
            {
                var rest = LessProducts(matrix[i, j], lower[i].AsSpan(0, j), lower[j]);
                lower[i][j] = i == j ? Math.Sqrt(rest) : rest / lower[j][j];
            }
        upper = [.. Enumerable.Range(0, Size).Select(column => Enumerable.Range(column, Size - column).Select(row => lower[row][column]).ToArray())];
    }

    int Size { get; }

    /// <summary>L⁻¹·y, written over y.</summary>
    public void SolveLower(double[] y) => SolveLower(y, 0);

    /// <param name="from">All before it is 0 and stays so.</param>
    void SolveLower(double[] y, int from)
    {
        for (var i = from; i < Size; i++)
            y[i] = LessProducts(y[i], lower[i].AsSpan(from, i - from), y.AsSpan(from)) / lower[i][i];
    }

    /// <summary>The same for many columns at once; <paramref name="rows"/> holds them row by row.</summary>
    public void SolveLower(double[][] rows)
    {
        for (var i = 0; i < Size; i++)
        {
            var row = rows[i];
            for (var k = 0; k < i; k++)
                Subtract(row, lower[i][k], rows[k]);
            for (var column = 0; column < row.Length; column++)
                row[column] /= lower[i][i];
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
            SolveLower(unit, column);
            SolveUpper(unit);
            for (var row = 0; row < Size; row++)
                inverse[row, column] = unit[row];
        }
        return inverse;
    }

    /// <summary>x of L·Lᵀ·x = right.</summary>
    public double[] Solve(double[] right)
    {
        var x = (double[])right.Clone();
        SolveLower(x);
        SolveUpper(x);
        return x;
    }

    /// <summary>(Lᵀ)⁻¹·y, written over y.</summary>
    void SolveUpper(double[] y)
    {
        for (var i = Size - 1; i >= 0; i--)
            y[i] = LessProducts(y[i], upper[i].AsSpan(1), y.AsSpan(i + 1)) / upper[i][0];
    }

    /// <summary>row −= factor·other: what takes the time, so several numbers at once.</summary>
    public static void Subtract(Span<double> row, double factor, ReadOnlySpan<double> other)
    {
        var i = 0;
        for (; i <= row.Length - Vector<double>.Count; i += Vector<double>.Count)
            (new Vector<double>(row[i..]) - factor * new Vector<double>(other[i..])).CopyTo(row[i..]);
        for (; i < row.Length; i++)
            row[i] -= factor * other[i];
    }

    /// <summary>rest − Σ one_k·other_k, in this order.</summary>
    static double LessProducts(double rest, ReadOnlySpan<double> one, ReadOnlySpan<double> other)
    {
        other = other[..one.Length];
        for (var k = 0; k < one.Length; k++)
            rest -= one[k] * other[k];
        return rest;
    }
}
