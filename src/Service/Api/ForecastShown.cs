using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Site;

namespace Farberth.Service.Api;

/// <summary>The next 24 hours of a dock. Every number is the mean of a quarter of an hour.</summary>
/// <param name="LearnedShare">How much of its spread rests on the dock's own past errors; 0: all of it is assumed, as on the first day.</param>
/// <param name="Levels">Every list of numbers has one for each of these: the value that is not passed with this chance.</param>
public sealed record ForecastShown(
    string Dock, DateTimeOffset At, double LearnedShare, SagChanceShown Sag, IReadOnlyList<double> Levels, IReadOnlyList<HourAhead> Hours)
{
    public static ForecastShown Of(DockForecast forecast, string dock, VoltageBands bands) => new(
        dock, forecast.Time, Math.Round(forecast.LearnedShare, 2),
        new(bands.LowA, Math.Round(forecast.Sag.BelowA, 3), bands.LowB, Math.Round(forecast.Sag.BelowB, 3),
            forecast.Sag.Worst?.Until, forecast.Sag.Worst?.Pedestal, forecast.Sag.Worst?.Leg.ToString()),
        Quantiles.Levels, [.. forecast.Hours.Select(HourAhead.Of)]);
}

/// <param name="BelowA">Chance, 0 to 1, that the lowest volts of the dock are below <paramref name="LimitA"/> at a full hour of the day within 24 hours.</param>
/// <param name="At">The hour at which that is most likely; null while it is night for the next 24 hours.</param>
public sealed record SagChanceShown(double LimitA, double BelowA, double LimitB, double BelowB, DateTimeOffset? At, string? Pedestal, string? Leg);

/// <param name="Until">When the quarter of an hour ends.</param>
/// <param name="Pedestal">Where the volts will most likely be lowest.</param>
/// <param name="Volts">The lowest of any pedestal, leg to neutral.</param>
/// <param name="Kva">At the source.</param>
/// <param name="Amps">Out of the source, by leg.</param>
public sealed record HourAhead(
    DateTimeOffset Until, int MinutesAhead, string Pedestal, string Leg, IReadOnlyList<double> Volts, IReadOnlyList<double> Kva,
    IReadOnlyDictionary<string, IReadOnlyList<double>> Amps)
{
    public static HourAhead Of(DockAhead ahead) => new(
        ahead.Until, ahead.MinutesAhead, ahead.Pedestal, ahead.Leg.ToString(), Numbers(ahead.Volts, 2), Numbers(ahead.KilovoltAmperes, 2),
        ahead.Amps.OrderBy(leg => leg.Key).ToDictionary(leg => leg.Key.ToString(), leg => Numbers(leg.Value, 1)));

    static IReadOnlyList<double> Numbers(Quantiles quantiles, int decimals) => [.. quantiles.Values.Select(value => Math.Round(value, decimals))];
}
