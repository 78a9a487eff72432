using Farberth.Monitoring.Forecast;

namespace Farberth.HotAfternoon.Tests.Forecast;

/// <summary>Mean pinball loss over the levels, horizons and hours of one kind of forecast, and how often its 90 % band held.</summary>
sealed class Score
{
    double loss;
    long count;
    long held;

    public double Loss => loss / count;

    public double Held => (double)held / count;

    public void Add(Quantiles forecast, double outcome)
    {
        for (var at = 0; at < Quantiles.Levels.Count; at++)
            loss += Quantiles.PinballLoss(Quantiles.Levels[at], forecast.Values[at], outcome) / Quantiles.Levels.Count;
        held += outcome >= forecast.Values[0] - 1e-9 && outcome <= forecast.Values[^1] + 1e-9 ? 1 : 0;
        count++;
    }
}
