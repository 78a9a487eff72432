namespace Farberth.Monitoring.Forecast;

/// <summary>Values with weights, and their quantiles. Used again and again, so that a forecast allocates little.</summary>
/// <remarks>
/// Sorted, with S_i the weight of all before i: value i stands at level (S_i + w_i/2)/S; between, straight lines; beyond the ends,
/// the end. With equal weights this is the definition of Hazen, level (i − ½)/n (type 5 of Hyndman and Fan, Sample Quantiles in
/// Statistical Packages, The American Statistician 50, 1996).
/// </remarks>
sealed class WeightedSample
{
    double[] values = new double[256];
    double[] weights = new double[256];
    double lowest = double.PositiveInfinity;
    double highest = double.NegativeInfinity;
    int count;
    bool isSorted;

    public double Weight { get; private set; }

    public void Clear() => (count, Weight, isSorted, lowest, highest) = (0, 0, false, double.PositiveInfinity, double.NegativeInfinity);

    public void Add(double value, double weight)
    {
        if (!double.IsFinite(value) || weight <= 0)
            return;
        if (count == values.Length)
        {
            Array.Resize(ref values, 2 * count);
            Array.Resize(ref weights, 2 * count);
        }
        (values[count], weights[count]) = (value, weight);
        count++;
        Weight += weight;
        (lowest, highest) = (Math.Min(lowest, value), Math.Max(highest, value));
        isSorted = false;
    }

    /// <summary>
    /// Until values of so much weight have come, the rest is assumed: normal about a centre. Its quantiles from 2.5 to 97.5 %, each
    /// with the weight of the piece of the distribution that it stands for.
    /// </summary>
    public void FillUp(double toWeight, double centre, double sd)
    {
        ReadOnlySpan<(double Z, double Share)> normal = [(-1.96, 0.05), (-1.28, 0.125), (-0.67, 0.2), (0, 0.25), (0.67, 0.2), (1.28, 0.125), (1.96, 0.05)];
        var missing = toWeight - Weight;
        foreach (var (z, share) in normal)
            Add(centre + z * sd, missing * share);
    }

    public double Quantile(double level)
    {
        if (lowest == highest)
            return lowest;
        if (!isSorted)
            Array.Sort(values, weights, 0, count);
        isSorted = true;
        var (before, lastAt, target) = (0.0, double.NaN, level * Weight);
        for (var i = 0; i < count; i++)
        {
            var at = before + weights[i] / 2;
            if (at >= target)
                return i == 0 ? values[0] : values[i - 1] + (values[i] - values[i - 1]) * (target - lastAt) / (at - lastAt);
            (before, lastAt) = (before + weights[i], at);
        }
        return count > 0 ? values[count - 1] : double.NaN;
    }

    /// <summary>The weight of the values below a limit, as a share of all.</summary>
    public double ShareBelow(double limit)
    {
        var below = 0.0;
        for (var i = 0; i < count; i++)
            below += values[i] < limit ? weights[i] : 0;
        return Weight > 0 ? below / Weight : 0;
    }

    /// <summary>At every level of <see cref="Quantiles.Levels"/>.</summary>
    public Quantiles Quantiles() => new([.. Forecast.Quantiles.Levels.Select(Quantile)]);
}
