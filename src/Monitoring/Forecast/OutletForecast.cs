using Farberth.Grid.Network;

namespace Farberth.Monitoring.Forecast;

/// <summary>What an outlet is expected to draw in the next 24 hours: means of quarter-hours, A.</summary>
/// <param name="ByLeg">At each horizon of <see cref="MinutesAhead"/>.</param>
public sealed record OutletForecast(IReadOnlyDictionary<Leg, IReadOnlyList<Quantiles>> ByLeg)
{
    /// <summary>The middle of each quarter-hour that is forecast, minutes from the time of the forecast.</summary>
    public static IReadOnlyList<double> MinutesAhead { get; } = [.. Quarters.Ahead.Select(quarters => 15 * (quarters - 0.5))];

    /// <summary>Amps on the leg that will carry most, as a quantile.</summary>
    /// <param name="minutes">From the time of the forecast; before the first and after the last horizon, theirs.</param>
    /// <param name="quantile">0.9: with a chance of 90 % it is less. Beyond 5 and 95 % the ends are given: the tails are not known.</param>
    /// <returns>0 for an outlet with no leg.</returns>
    public double AmpsAt(double minutes, double quantile) =>
        ByLeg.Values.Select(horizons => At(horizons, minutes).At(quantile)).DefaultIfEmpty(0).Max();

    static Quantiles At(IReadOnlyList<Quantiles> horizons, double minutes)
    {
        for (var upper = 0; upper < horizons.Count; upper++)
            if (minutes <= MinutesAhead[upper])
                return upper == 0 ? horizons[0] : Quantiles.Between(
                    horizons[upper - 1], horizons[upper],
                    (minutes - MinutesAhead[upper - 1]) / (MinutesAhead[upper] - MinutesAhead[upper - 1]));
        return horizons[^1];
    }
}
