using Farberth.Grid.Protection;

namespace Farberth.Monitoring.Risk;

/// <summary>How near one outlet's breaker is to opening.</summary>
/// <param name="Present">If the amps stay what they are.</param>
/// <param name="Forecast">If they go as the last hour's suggest.</param>
/// <param name="ForecastAmps">The most of the next hour.</param>
public sealed record TripOutlook(TripChance Present, TripChance Forecast, double ForecastAmps)
{
    public static readonly TripOutlook Cold = new(TripChance.None, TripChance.None, 0);
}
