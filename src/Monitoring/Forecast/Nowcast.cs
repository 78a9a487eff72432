namespace Farberth.Monitoring.Forecast;

// How what is unusual now goes on. With r the residual, value less usual, and a horizon of h quarters,
//
//     r(t+h) ≈ θ_h · f(t),   f = (r̄ of the last hour, r̄ of the last day, r̄ about t+h−24 h, r(t)),
//
// one ridge regression for each h: Σ f·fᵀ and Σ f·r over all past t, each weighted by 1/σ² of its series and faded by
// e^(−1/14 d), from a prior θ_h⁰ = (0.8·e^(−h/3 h), 0.3, 0.1, 0) with the weight of 30 quarters (assumed).

/// <summary>The learned persistence of residuals, for one series or for many alike.</summary>
sealed class Nowcast
{
    const int Features = 4;
    const double PriorWeight = 30;

    static readonly double Kept = Math.Exp(-1.0 / (14 * Quarters.PerDay));

    readonly double[][,] squares = [.. Quarters.Ahead.Select(_ => new double[Features, Features])];
    readonly double[][] products = [.. Quarters.Ahead.Select(_ => new double[Features])];
    readonly double[][] learned = [.. Quarters.Ahead.Select(Prior)];

    public Nowcast()
    {
        for (var at = 0; at < Quarters.Ahead.Count; at++)
            for (var i = 0; i < Features; i++)
            {
                squares[at][i, i] = PriorWeight;
                products[at][i] = PriorWeight * learned[at][i];
            }
    }

    /// <summary>What is left of the present residuals.</summary>
    /// <param name="horizon">Position in <see cref="Quarters.Ahead"/>.</param>
    public double Residual(Residuals residuals, long now, int horizon)
    {
        Span<double> f = stackalloc double[Features];
        Fill(f, residuals, now, Quarters.Ahead[horizon]);
        var sum = 0.0;
        for (var i = 0; i < Features; i++)
            sum += learned[horizon][i] * f[i];
        return sum;
    }

    /// <summary>Takes in the newest residual of a series, at every horizon.</summary>
    public void Learn(Residuals residuals, long newest)
    {
        var (outcome, variance) = (residuals[newest], residuals.Variance);
        if (double.IsNaN(outcome) || variance <= 0)
            return;
        Span<double> f = stackalloc double[Features];
        for (var at = 0; at < Quarters.Ahead.Count; at++)
        {
            var origin = newest - Quarters.Ahead[at];
            if (double.IsNaN(residuals[origin]))
                continue;
            Fill(f, residuals, origin, Quarters.Ahead[at]);
            for (var i = 0; i < Features; i++)
            {
                for (var j = 0; j < Features; j++)
                    squares[at][i, j] += f[i] * f[j] / variance;
                products[at][i] += f[i] * outcome / variance;
            }
        }
    }

    /// <summary>Fades the past by one quarter and solves anew.</summary>
    public void Close()
    {
        for (var at = 0; at < Quarters.Ahead.Count; at++)
        {
            var prior = Prior(Quarters.Ahead[at]);
            for (var i = 0; i < Features; i++)
            {
                for (var j = 0; j < Features; j++)
                    squares[at][i, j] *= Kept;
                products[at][i] *= Kept;
                squares[at][i, i] += (1 - Kept) * PriorWeight;
                products[at][i] += (1 - Kept) * PriorWeight * prior[i];
            }
            Solve(squares[at], products[at], learned[at]);
        }
    }

    static double[] Prior(int quarters) => [0.8 * Math.Exp(-quarters / (3.0 * Quarters.PerHour)), 0.3, 0.1, 0];

    static void Fill(Span<double> f, Residuals residuals, long now, int ahead)
    {
        f[0] = residuals.Mean(now - Quarters.PerHour + 1, now);
        f[1] = residuals.DayMean(now);
        var yesterday = now + ahead - Quarters.PerDay;
        f[2] = residuals.Mean(yesterday - 2, Math.Min(now, yesterday + 2));
        f[3] = double.IsNaN(residuals[now]) ? f[0] : residuals[now];
    }

    /// <summary>Gaussian elimination of a positive definite matrix; no pivots are needed.</summary>
    static void Solve(double[,] a, double[] b, double[] x)
    {
        var (m, y) = ((double[,])a.Clone(), (double[])b.Clone());
        for (var i = 0; i < Features; i++)
            for (var row = i + 1; row < Features; row++)
            {
                var factor = m[row, i] / m[i, i];
                for (var column = i; column < Features; column++)
                    m[row, column] -= factor * m[i, column];
                y[row] -= factor * y[i];
            }
        for (var i = Features - 1; i >= 0; i--)
        {
            x[i] = y[i];
            for (var column = i + 1; column < Features; column++)
                x[i] -= m[i, column] * x[column];
            x[i] /= m[i, i];
        }
    }

    public NowcastMemory Memory() => new(
        [.. squares.Select(each => (double[,])each.Clone())], [.. products.Select(each => (double[])each.Clone())],
        [.. learned.Select(each => (double[])each.Clone())]);

    public void Resume(NowcastMemory memory)
    {
        for (var at = 0; at < Quarters.Ahead.Count; at++)
        {
            Array.Copy(memory.Squares[at], squares[at], squares[at].Length);
            Array.Copy(memory.Products[at], products[at], products[at].Length);
            Array.Copy(memory.Learned[at], learned[at], learned[at].Length);
        }
    }
}

/// <summary>By horizon.</summary>
/// <param name="Squares">Σ f·fᵀ.</param>
/// <param name="Products">Σ f·r.</param>
/// <param name="Learned">θ.</param>
sealed record NowcastMemory(IReadOnlyList<double[,]> Squares, IReadOnlyList<double[]> Products, IReadOnlyList<double[]> Learned);
