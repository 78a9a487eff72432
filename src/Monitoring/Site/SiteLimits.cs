using Farberth.Grid.Protection;

namespace Farberth.Monitoring.Site;

/// <summary>The limits of a site. Left out of a site file, they are those of the supply's region.</summary>
/// <param name="ContinuousShare">Share of an outlet's rating that may be drawn for hours.</param>
/// <param name="Volts">Bands at the pedestal, leg to neutral.</param>
/// <param name="LegImbalanceShare">Highest less mean leg amps at the source, as a share of the mean.</param>
/// <param name="RacewayCelsius">Air in the raceway while no weather is known.</param>
/// <param name="SunRiseKelvin">Raceway above outdoor air at solar noon.</param>
/// <param name="PowerFactor">Assumed where a pedestal sends no watts; lagging.</param>
/// <param name="DrawingAmps">An outlet that draws at least this has a boat at work on it.</param>
/// <param name="LoadResponse">Assumed percent change of amps for one percent of volts: +1 resistive, 0 constant current, −1 constant power.</param>
/// <param name="Leakage">From where current that leaks is a shock hazard in the water.</param>
/// <param name="Contacts">Of plugs and receptacles.</param>
public sealed record SiteLimits(
    double ContinuousShare,
    VoltageBands Volts,
    double LegImbalanceShare,
    double RacewayCelsius,
    double SunRiseKelvin,
    double PowerFactor,
    double DrawingAmps,
    double LoadResponse,
    LeakageLimits Leakage,
    ContactLimits Contacts)
{
    /// <summary>What may be drawn for hours through an outlet or a breaker, A.</summary>
    public double ContinuousAmps(double ratingAmps) => ratingAmps * ContinuousShare;

    /// <summary>Of every outlet that names none itself.</summary>
    public BreakerFamily Breaker { get; init; }
}

/// <summary>How warm the contacts of plugs and receptacles may be, and what makes them so.</summary>
/// <param name="LimitCelsius">From here plastic ages, softens or chars.</param>
/// <param name="RiseKelvin">What a new contact may rise at rated amps.</param>
/// <param name="SunRiseKelvin">Pedestal above outdoor air at solar noon.</param>
public sealed record ContactLimits(double LimitCelsius, double RiseKelvin, double SunRiseKelvin);

/// <summary>Current that does not come back by its own conductors.</summary>
/// <param name="OutletMilliamps">Of one outlet.</param>
/// <param name="FeederMilliamps">Of all outlets of a dock together.</param>
public sealed record LeakageLimits(double OutletMilliamps, double FeederMilliamps);

/// <summary>RMS volts, leg to neutral. Band A is where supply should be, band B where it may be for a while.</summary>
public sealed record VoltageBands(double LowA, double LowB, double HighA, double HighB);

/// <summary>When an alarm is raised and cleared.</summary>
/// <param name="RaiseAfter">The condition must hold this long.</param>
/// <param name="ClearAfter">The condition must be gone, by the deadband, this long.</param>
/// <param name="Deadband">Share of the limit by which the value must come back.</param>
public sealed record AlarmTiming(TimeSpan RaiseAfter, TimeSpan ClearAfter, double Deadband);
