namespace Farberth.Grid.Estimation;

// Since when. A joint i that is bad from a moment T on has h_i = 0 before it. With the sums that all lines from T on
// have added to row i of the normal equations, v (without i itself), s = A_ii and b_i, and with M those of all other unknowns and their
// prior, i lowers χ² by
//
//     f(T) = (b_i − vᵀM⁻¹b)² / (s + 1/S² − vᵀM⁻¹v),      S the wide prior of a bad joint,
//
// and the T with the largest f is when it began. Always bad is the simpler thing to say: a later T must be better by nine.

/// <summary>Follows one bad joint's row of the normal equations from mean to mean.</summary>
sealed class JointOnset(int unknown, JointsSums sums)
{
    const double Better = 9;

    /// <summary>So many means are one step of the search.</summary>
    const int Every = 3;

    readonly List<(DateTimeOffset From, double[] Row, double Right)> before = [];
    int noted;

    /// <summary>To be called before each mean is added.</summary>
    public void Note(DateTimeOffset from)
    {
        if (noted++ % Every == 0)
            before.Add((from, Row(), sums.B[unknown]));
    }

    /// <returns>The earliest of times if it was always there.</returns>
    public DateTimeOffset Best(double[] priorSd, double badSd)
    {
        var others = Others(priorSd);
        var (all, right) = (Row(), sums.B[unknown]);
        var rest = (double[])sums.B.Clone();
        rest[unknown] = 0;
        double Fall(double[] rowBefore, double rightBefore)
        {
            var v = all.Zip(rowBefore, (one, other) => one - other).ToArray();
            var s = v[unknown];
            v[unknown] = 0;
            var solved = others.Solve(v);
            var top = right - rightBefore - Dot(solved, rest);
            return top > 0 ? top * top / (s + 1 / (badSd * badSd) - Dot(solved, v)) : 0;
        }
        var falls = before.ConvertAll(it => (it.From, Fall: Fall(it.Row, it.Right)));
        var best = falls.MaxBy(it => it.Fall);
        return best.Fall > falls[0].Fall + Better ? best.From : DateTimeOffset.MinValue;
    }

    double[] Row()
    {
        var row = new double[sums.B.Length];
        for (var i = 0; i < row.Length; i++)
            row[i] = sums.A(unknown, i);
        return row;
    }

    CholeskyFactor Others(double[] priorSd)
    {
        var matrix = sums.LowerTriangle();
        for (var i = 0; i < priorSd.Length; i++)
        {
            if (i < unknown)
                matrix[unknown, i] = 0;
            else if (i > unknown)
                matrix[i, unknown] = 0;
            matrix[i, i] = i == unknown ? 1 : matrix[i, i] + 1 / (priorSd[i] * priorSd[i]);
        }
        return new(matrix);
    }

    static double Dot(double[] one, double[] other)
    {
        var sum = 0.0;
        for (var i = 0; i < one.Length; i++)
            sum += one[i] * other[i];
        return sum;
    }
}
