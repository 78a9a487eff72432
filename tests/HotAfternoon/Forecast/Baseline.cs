using Farberth.Monitoring.Forecast;

namespace Farberth.HotAfternoon.Tests.Forecast;

/// <summary>
/// "As now" and "as yesterday". As a point, that number stands for every quantile. With a fair band: its own past errors at the
/// same horizon, made up to three hours from this hour of the day, put about it (Hazen's quantiles).
/// </summary>
sealed class Baseline(Dictionary<long, double> came, Func<long, int, long> source)
{
    public Quantiles Point(long now, int ahead) => new([.. Quantiles.Levels.Select(_ => came[source(now, ahead)])]);

    public Quantiles Fair(long now, int ahead, bool canBeNegative)
    {
        var errors = new List<double>();
        for (var made = now - 4; came.ContainsKey(made - 96); made -= 4)
            if (made + ahead <= now && Math.Abs(((now - made + 48) % 96) - 48) <= 12)
                errors.Add(came[made + ahead] - came[source(made, ahead)]);
        errors.Sort();
        return Point(now, ahead) with
        {
            Values = [.. Quantiles.Levels.Select(level => came[source(now, ahead)] + Hazen(errors, level))
                .Select(value => canBeNegative ? value : Math.Max(0, value))],
        };
    }

    /// <summary>Sorted value i of n stands at level (i − ½)/n.</summary>
    static double Hazen(List<double> sorted, double level)
    {
        var at = Math.Clamp(level * sorted.Count - 0.5, 0, sorted.Count - 1);
        var below = (int)at;
        return sorted[below] + (sorted[Math.Min(below + 1, sorted.Count - 1)] - sorted[below]) * (at - below);
    }
}
