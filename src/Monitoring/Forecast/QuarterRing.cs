namespace Farberth.Monitoring.Forecast;

/// <summary>One quantity's means by the quarter-hour over the last four weeks: 2,688 numbers, 11 kB, whatever comes.</summary>
sealed class QuarterRing
{
    public const int Days = 28;
    const int Size = Days * Quarters.PerDay;

    readonly float[] values = Filled();
    long newest = long.MinValue;

    /// <summary>NaN where nothing is known: not heard, too old or still to come.</summary>
    public double this[long quarter] => quarter > newest || quarter <= newest - Size ? double.NaN : values[At(quarter)];

    public bool IsEmpty => newest == long.MinValue;

    /// <summary>A quarter older than the last is left out; those between are unknown.</summary>
    public void Add(long quarter, double value)
    {
        if (quarter <= newest)
            return;
        for (var between = Math.Max(newest + 1, quarter - Size + 1); between < quarter; between++)
            values[At(between)] = float.NaN;
        values[At(quarter)] = (float)value;
        newest = quarter;
    }

    /// <summary>Mean of what is known from one quarter to another, both included; <paramref name="otherwise"/> where nothing is.</summary>
    public double Mean(long from, long to, double otherwise)
    {
        var (sum, count) = (0.0, 0);
        for (var quarter = from; quarter <= to; quarter++)
            if (this[quarter] is var value && !double.IsNaN(value))
                (sum, count) = (sum + value, count + 1);
        return count > 0 ? sum / count : otherwise;
    }

    static int At(long quarter) => (int)((uint)quarter % Size);

    static float[] Filled()
    {
        var all = new float[Size];
        Array.Fill(all, float.NaN);
        return all;
    }

    public QuarterRingMemory Memory() => new([.. values], newest);

    public void Resume(QuarterRingMemory memory)
    {
        memory.Values.CopyTo(values, 0);
        newest = memory.Newest;
    }
}

sealed record QuarterRingMemory(float[] Values, long Newest);
