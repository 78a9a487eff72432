using System.Diagnostics.CodeAnalysis;
using Farberth.Grid.Network;

namespace Farberth.HotAfternoon;

/// <summary>Where something stands in a scenario file, both from 1.</summary>
public readonly record struct Place(int Line, int Column);

/// <summary>What is wrong with a scenario file, and where.</summary>
public sealed record ScenarioMistake(Place Place, string Message)
{
    public override string ToString() => $"line {Place.Line}, column {Place.Column}: {Message}";
}

/// <summary>A scenario, or all that is wrong with it.</summary>
public sealed record ScenarioResult(Scenario? Scenario, IReadOnlyList<ScenarioMistake> Mistakes)
{
    [MemberNotNullWhen(true, nameof(Scenario))]
    public bool IsGood => Scenario is not null;
}

/// <summary>
/// One story on one site: the weather, the boats and what goes wrong. Clock times are local, of the start's date.
/// </summary>
public sealed record Scenario(
    string Title,
    long Seed,
    DateTime Start,
    DateTime End,
    TimeSpan Step,
    WeatherPlan Weather,
    FeederPlan Feeder,
    MeterPlan Meters,
    IReadOnlyList<BreakerPlan> Breakers,
    IReadOnlyList<BoatPlan> Boats)
{
    /// <summary>Outlets whose contacts differ from the rest.</summary>
    public IReadOnlyList<ContactPlan> Contacts { get; init; } = [];

    /// <summary>Reads a scenario file; every mistake in one pass.</summary>
    public static ScenarioResult Read(string yaml) => ScenarioReader.Read(yaml);
}

/// <param name="HottestAt">Local hour of <paramref name="HighCelsius"/>.</param>
/// <param name="Clouds">Share of the sun they take, 0 to 1.</param>
/// <param name="Every">Between two weather messages.</param>
/// <param name="ForecastErrorKelvin">Standard deviation of the forecast's error; of a season, twelve hours ahead.</param>
public sealed record WeatherPlan(
    double LowCelsius, double HighCelsius, TimeOnly HottestAt, double DewPointCelsius,
    TimeOnly Sunrise, TimeOnly Sunset, double Clouds, TimeSpan Every, double ForecastErrorKelvin)
{
    /// <summary>A season's days, the first one of the start's date; empty: every day is alike.</summary>
    public IReadOnlyList<DayWeather> Days { get; init; } = [];

    public DateTime FirstDay { get; init; }

    /// <summary>How far the forecast reaches.</summary>
    public int ForecastHours { get; init; } = 12;
}

/// <summary>How the real feeder differs from the site file.</summary>
/// <param name="LengthError">Standard deviation of each cable's length, as a share.</param>
/// <param name="JointOhms">What every conductor of every cable has at its two ends together.</param>
/// <param name="SunRiseKelvin">Raceway above the air in the strongest sun.</param>
public sealed record FeederPlan(
    double LengthError, double JointOhms, double SunRiseKelvin, IReadOnlyList<JointPlan> Joints,
    IReadOnlyList<NeutralFaultPlan> NeutralFaults)
{
    /// <summary>Standard deviation of the logarithm of each contact's wear; 0: all are sound.</summary>
    public double ContactWear { get; init; }

    /// <summary>What the supply has lost behind the transformer in air of 40 °C; nothing is lost at 20 °C.</summary>
    public double SupplySagVolts { get; init; }
}

/// <summary>A neutral that fails at some moment and stays so.</summary>
/// <param name="Cable">Named by its outer end.</param>
/// <param name="Ohms">What it then has too much; 1 Mohm where it is open.</param>
/// <param name="From">Null: from the beginning.</param>
public sealed record NeutralFaultPlan(string Cable, double Ohms, DateTime? From, Place Place)
{
    public const double OpenOhms = 1e6;

    public double OhmsAt(DateTime local) => From is null || local >= From ? Ohms : 0;
}

/// <summary>One joint worse than the rest.</summary>
/// <param name="Cable">Named by its outer end.</param>
public sealed record JointPlan(string Cable, Leg Conductor, double Ohms, Place Place);

/// <param name="GainError">Standard deviation of each channel's constant factor, as a share.</param>
/// <param name="VoltsNoise">Standard deviation from reading to reading.</param>
/// <param name="AmpsNoise">Likewise.</param>
/// <param name="Lateness">Mean time from reading to arrival.</param>
/// <param name="LateShare">Share of the messages that come up to <paramref name="LateBy"/> later still.</param>
public sealed record MeterPlan(
    TimeSpan Every, double GainError, double VoltsNoise, double AmpsNoise, TimeSpan Lateness, double LateShare,
    TimeSpan LateBy, double DuplicateShare, double DropShare, IReadOnlyList<SilencePlan> Silences)
{
    /// <summary>Pedestals that do not send the temperature of their contacts.</summary>
    public IReadOnlyList<NoCelsiusPlan> WithoutCelsius { get; init; } = [];
}

/// <summary>A pedestal that sends nothing for a while.</summary>
/// <param name="LinkLost">The broker notices and sends the last will; else the link stays up.</param>
public sealed record SilencePlan(string Pedestal, DateTime From, DateTime Until, bool LinkLost, Place Place);

/// <summary>A pedestal whose outlets do not measure how warm their contacts are.</summary>
public sealed record NoCelsiusPlan(string Pedestal, Place Place);

/// <summary>One outlet breaker that differs from the rest.</summary>
/// <param name="Holds">Its own ultimate trip current, share of the rating; null: drawn from its family's band.</param>
/// <param name="Reset">When somebody closes it again, if it is open then.</param>
public sealed record BreakerPlan(OutletName Outlet, double? Holds, DateTime? Reset, Place Place);

/// <summary>Contacts of one outlet and the plug in it.</summary>
/// <param name="Wear">How many times the ohms of sound ones they have.</param>
/// <param name="LimitCelsius">From here their plastic softens.</param>
public sealed record ContactPlan(OutletName Outlet, double Wear, double LimitCelsius, Place Place)
{
    /// <summary>Assumed; jackets of PVC soften from about here on.</summary>
    public const double UsualLimitCelsius = 75;

    /// <summary>Lognormal about 1.</summary>
    public static double DrawWear(double spread, NamedRandom random) => Math.Exp(spread * random.Normal());
}

public readonly record struct OutletName(string Pedestal, string Outlet)
{
    public override string ToString() => $"{Pedestal}.{Outlet}";
}

/// <param name="Aboard">When somebody is there.</param>
/// <param name="MainOpen">When the boat's own main breaker is open.</param>
/// <param name="LeakageAmps">What leaks through the outlet of its first load while it lies there; null: its pedestal does not measure it.</param>
public sealed record BoatPlan(
    string Name, string Pedestal, DateTime? Arrives, DateTime? Leaves, IReadOnlyList<Span> Aboard,
    IReadOnlyList<Span> MainOpen, double? LeakageAmps, IReadOnlyList<LoadPlan> Loads, Place Place)
{
    /// <summary>When it is not there, within its stay.</summary>
    public IReadOnlyList<Span> Trips { get; init; } = [];

    public bool IsThere(DateTime at) =>
        (Arrives is null || at >= Arrives) && (Leaves is null || at < Leaves) && !Trips.Any(trip => trip.Holds(at));
}

public readonly record struct Span(DateTime From, DateTime Until)
{
    public bool Holds(DateTime at) => at >= From && at < Until;
}

/// <summary>How a load is fed: the outlet, one or two legs of it, and when its switch is on.</summary>
/// <param name="Leg">Null: the outlet's first.</param>
/// <param name="Other">Null: to neutral.</param>
/// <param name="WhenAboard">Switched off when everybody leaves.</param>
/// <param name="During">Switched on only then; empty: at any time.</param>
public sealed record Feed(
    string Outlet, Leg? Leg, Leg? Other, bool WhenAboard, IReadOnlyList<Span> During, Place Place)
{
    public bool IsSometimesOff => WhenAboard || During.Count > 0;

    public bool IsOn(DateTime local, bool aboard) =>
        (aboard || !WhenAboard) && (During.Count == 0 || During.Any(span => span.Holds(local)));
}
