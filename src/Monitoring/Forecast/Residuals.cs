namespace Farberth.Monitoring.Forecast;

/// <summary>What was unusual in each quarter-hour, value less usual, and its mean over the day before.</summary>
sealed class Residuals
{
    static readonly double KeptVariance = Math.Exp(-1.0 / (7 * Quarters.PerDay));

    readonly QuarterRing values = new();
    readonly QuarterRing dayMeans = new();
    double squares;
    double weight;

    /// <summary>Mean square over the last week or so; 0 before the first.</summary>
    public double Variance => weight > 0 ? squares / weight : 0;

    /// <summary>NaN where it is unknown.</summary>
    public double this[long quarter] => values[quarter];

    /// <summary>Over the 24 hours up to a quarter; 0 where nothing is known.</summary>
    public double DayMean(long quarter) => dayMeans[quarter] is var mean && double.IsNaN(mean) ? 0 : mean;

    /// <summary>Over the quarters of which something is known; 0 where nothing is.</summary>
    public double Mean(long from, long to) => values.Mean(from, to, 0);

    public void Add(long quarter, double residual)
    {
        values.Add(quarter, residual);
        dayMeans.Add(quarter, values.Mean(quarter - Quarters.PerDay + 1, quarter, 0));
        if (double.IsNaN(residual))
            return;
        squares = squares * KeptVariance + residual * residual;
        weight = weight * KeptVariance + 1;
    }

    public ResidualsMemory Memory() => new(values.Memory(), dayMeans.Memory(), squares, weight);

    public void Resume(ResidualsMemory memory)
    {
        values.Resume(memory.Values);
        dayMeans.Resume(memory.DayMeans);
        (squares, weight) = (memory.Squares, memory.Weight);
    }
}

sealed record ResidualsMemory(QuarterRingMemory Values, QuarterRingMemory DayMeans, double Squares, double Weight);
