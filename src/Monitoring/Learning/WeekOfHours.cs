namespace Farberth.Monitoring.Learning;

/// <summary>Means by the hour over the last seven days.</summary>
sealed class WeekOfHours
{
    const int Hours = 7 * 24;

    readonly double[] sums = new double[Hours];
    readonly int[] counts = new int[Hours];
    long newest;

    /// <summary>The highest hourly mean; 0 before the first value.</summary>
    public double Highest
    {
        get
        {
            var highest = 0.0;
            for (var hour = 0; hour < Hours; hour++)
                if (counts[hour] > 0)
                    highest = Math.Max(highest, sums[hour] / counts[hour]);
            return highest;
        }
    }

    public void Add(DateTimeOffset at, double value)
    {
        var hour = at.UtcTicks / TimeSpan.TicksPerHour;
        for (var between = Math.Max(newest + 1, hour - Hours + 1); between <= hour; between++)
            (sums[between % Hours], counts[between % Hours]) = (0, 0);
        newest = Math.Max(newest, hour);
        sums[hour % Hours] += value;
        counts[hour % Hours]++;
    }

    public WeekOfHoursMemory Memory() => new([.. sums], [.. counts], newest);

    public void Resume(WeekOfHoursMemory memory)
    {
        memory.Sums.CopyTo(sums, 0);
        memory.Counts.CopyTo(counts, 0);
        newest = memory.Newest;
    }
}

sealed record WeekOfHoursMemory(double[] Sums, int[] Counts, long Newest);
