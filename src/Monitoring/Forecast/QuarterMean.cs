namespace Farberth.Monitoring.Forecast;

/// <summary>The mean of what each tick of a quarter-hour showed.</summary>
struct QuarterMean
{
    /// <summary>A quarter of which less was heard is unknown.</summary>
    internal const double LeastShare = 0.5;

    double sum;
    int heard;
    int ticks;

    /// <param name="value">NaN where it was not heard.</param>
    public void Add(double value)
    {
        ticks++;
        if (!double.IsFinite(value))
            return;
        sum += value;
        heard++;
    }

    /// <summary>The mean, or NaN; begins the next quarter.</summary>
    public double Close()
    {
        var mean = heard > 0 && heard >= LeastShare * ticks ? sum / heard : double.NaN;
        this = default;
        return mean;
    }

    public readonly QuarterMeanMemory Memory() => new(sum, heard, ticks);

    public void Resume(QuarterMeanMemory memory) => (sum, heard, ticks) = (memory.Sum, memory.Heard, memory.Ticks);
}

sealed record QuarterMeanMemory(double Sum, int Heard, int Ticks);
