using Farberth.Grid.Protection;

namespace Farberth.Monitoring.Risk;

/// <summary>How near one outlet's breaker is to opening.</summary>
/// <param name="Amps">What it draws now, a motor's start left out.</param>
/// <param name="Present">If the amps stay what they are.</param>
/// <param name="Forecast">If they go as forecast.</param>
/// <param name="ForecastAmps">The most of the next hour.</param>
public sealed record TripOutlook(double Amps, TripChance Present, TripChance Forecast, double ForecastAmps)
{
    /// <summary>
    /// From so much on somebody must be told. The two are set on simulated afternoons and weeks, so that few trips come untold and few
    /// people are told in vain; docs/algorithms/breakers.md has what comes of it on others.
    /// </summary>
    const double PresentChance = 0.45;

    /// <summary>Lower, since the forecast is of what comes again and leaves out what is new.</summary>
    const double ForecastChance = 0.1;

    /// <summary>Far below its limits.</summary>
    public static TripOutlook Cold(double amps) => new(amps, TripChance.None, TripChance.None, amps);

    /// <summary>How far its chance to open within the hour is past what somebody must be told of, as a share of that.</summary>
    public double Margin { get; } = Math.Max(Present.Within60Minutes / PresentChance, Forecast.Within60Minutes / ForecastChance) - 1;

    /// <summary>Somebody must be told.</summary>
    public bool MayOpen => Margin > 0;

    /// <summary>Of the two ways the sooner; null where neither opens it.</summary>
    public TripInterval? Opens => Present.Opens ?? Forecast.Opens;
}
