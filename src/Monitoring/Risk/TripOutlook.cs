using Farberth.Grid.Protection;

namespace Farberth.Monitoring.Risk;

/// <summary>How near one outlet's breaker is to opening.</summary>
/// <remarks>
/// Nobody knows what people switch on and off within the hour, so three futures are weighed. With C their chances to open it and λ
/// how likely it is that such a load lasts (<see cref="LoadsThatLast"/>),
///   M = max(λ·(0.4·C_present + 0.4·C_forecast + 0.2·C_busier) / 0.13, C_present / 0.6) − 1.
/// From M = 0 on somebody is told: in weather that makes loads last early, and in any weather of what is more likely than not.
/// The figures are set on simulated afternoons and weeks; docs/algorithms/breakers.md has the curve, and what comes of it on others.
/// </remarks>
/// <param name="Amps">What it draws now, a motor's start left out.</param>
/// <param name="Present">If the amps stay what they are.</param>
/// <param name="Forecast">If they go as forecast.</param>
/// <param name="ForecastAmps">The most of the next hour.</param>
public sealed record TripOutlook(double Amps, TripChance Present, TripChance Forecast, double ForecastAmps)
{
    const double PresentWeight = 0.4;
    const double ForecastWeight = 0.4;
    const double BusierWeight = 0.2;

    const double ToldFrom = 0.13;
    const double SureFrom = 0.6;

    /// <summary>If to the forecast somebody switches on one more appliance now.</summary>
    public TripChance Busier { get; init; } = TripChance.None;

    /// <summary>λ, 0 to 1.</summary>
    public double Lasting { get; init; } = 1;

    /// <summary>Far below its limits.</summary>
    public static TripOutlook Cold(double amps) => new(amps, TripChance.None, TripChance.None, amps);

    /// <summary>M: how far past what somebody must be told of, as a share of that.</summary>
    public double Margin => Math.Max(
        Lasting * (PresentWeight * Present.Within60Minutes + ForecastWeight * Forecast.Within60Minutes + BusierWeight * Busier.Within60Minutes) / ToldFrom,
        Present.Within60Minutes / SureFrom) - 1;

    /// <summary>Somebody must be told.</summary>
    public bool MayOpen => Margin > 0;

    /// <summary>What flows now does not open it, nor what is forecast.</summary>
    public bool OnlyIfBusier => Present.Opens == null && Forecast.Opens == null;

    /// <summary>Of the three ways the first that opens it; null where none does.</summary>
    public TripInterval? Opens => Present.Opens ?? Forecast.Opens ?? Busier.Opens;
}
