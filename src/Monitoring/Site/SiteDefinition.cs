using Farberth.Grid.Conductors;
using Farberth.Grid.Network;
using Farberth.Grid.Protection;
using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Site;

/// <summary>One marina as its site file describes it, checked and complete. Immutable; every name is the site file's own.</summary>
public sealed record SiteDefinition(
    string Name,
    string TimeZone,
    SupplySystem Supply,
    IReadOnlyDictionary<string, DockDefinition> Docks,
    IReadOnlyDictionary<string, SlipDefinition> Slips,
    SiteLimits Limits,
    IReadOnlyDictionary<AlarmKind, AlarmTiming> AlarmTimings)
{
    /// <summary>How boaters are asked.</summary>
    public AdviceSettings Advice { get; init; } = RegionDefaults.Advice;
}

/// <summary>One feeder tree behind one source, with its pedestals. The point named "source" is the root of the tree.</summary>
/// <param name="FeederBreakerAmps">Rating of the breaker at the root, if there is one.</param>
public sealed record DockDefinition(
    string Name,
    SourceDefinition Source,
    double? FeederBreakerAmps,
    IReadOnlyList<CableDefinition> Cables,
    IReadOnlyDictionary<string, PedestalDefinition> Pedestals)
{
    /// <summary>Name of the tree's root in every site file.</summary>
    public const string SourcePoint = "source";
}

/// <param name="NoLoadVolts">Leg to neutral, behind the transformer (or at a stiff service).</param>
/// <param name="FaultAmps">Bolted fault current at the service where no transformer is given; null: stiff.</param>
/// <param name="ReactanceToResistance">X/R that goes with <paramref name="FaultAmps"/>.</param>
public sealed record SourceDefinition(
    double NoLoadVolts, TransformerDefinition? Transformer, double? FaultAmps, double ReactanceToResistance);

/// <param name="RatingVoltAmperes">Whole rating, all legs together.</param>
/// <param name="ImpedanceShare">Nameplate impedance, 0.025 for 2.5 %.</param>
public sealed record TransformerDefinition(
    double RatingVoltAmperes, double ImpedanceShare, double ReactanceToResistance)
{
    public TransformerThermal Thermal { get; init; } = TransformerThermal.Liquid;
}

/// <summary>How warm a transformer gets and may get.</summary>
/// <param name="IsDry">Dry, else in liquid.</param>
/// <param name="HotSpotLimitCelsius">Of the winding's hottest spot, at the peak of a day.</param>
/// <param name="HotSpotDangerCelsius">Never to be passed.</param>
public sealed record TransformerThermal(
    bool IsDry, TransformerRise Rise, double HotSpotLimitCelsius, double HotSpotDangerCelsius)
{
    /// <summary>
    /// IEEE C57.91, 65 °C winding rise: 110 °C gives normal life (confirmed), peaks to 120 °C are within it while the day's mean ageing is,
    /// 140 °C is for emergencies: bubbles form (from memory).
    /// </summary>
    public static TransformerThermal Liquid { get; } = new(false, TransformerRise.Liquid, 120, 140);

    /// <summary>Class 220 °C: its own temperature is the limit (from memory); 20 K more make it age four times as fast.</summary>
    public static TransformerThermal Dry { get; } = new(true, TransformerRise.Dry, 220, 240);
}

/// <summary>One piece of feeder; <see cref="To"/> is the outer end and names the cable.</summary>
/// <param name="Sets">Parallel sets of conductors, 1 or more.</param>
/// <param name="AmpacityAmps">Stated in the file for all sets together at the raceway's temperature; null: from the table.</param>
public sealed record CableDefinition(
    string From,
    string To,
    double LengthMetres,
    Conductor Conductor,
    Conductor Neutral,
    Raceway Raceway,
    int Sets,
    TemperatureRating Rating,
    double? AmpacityAmps)
{
    /// <summary>What each leg carries continuously, all sets together, A; what the file states goes before the table.</summary>
    public double LegAmpacityAmps(double racewayCelsius) => AmpacityAmps ?? Sets * Conductor.AmpacityAmps(Rating, racewayCelsius);

    /// <summary>What the neutral carries continuously, all sets together, A.</summary>
    public double NeutralAmpacityAmps(double racewayCelsius) =>
        Neutral == Conductor ? LegAmpacityAmps(racewayCelsius) : Sets * Neutral.AmpacityAmps(Rating, racewayCelsius);
}

public sealed record PedestalDefinition(string Name, IReadOnlyDictionary<string, OutletDefinition> Outlets)
{
    /// <summary>Ratings of its outlets on a leg together.</summary>
    public double RatedAmps(Leg leg) => Outlets.Values.Where(outlet => outlet.IsOn(leg)).Sum(outlet => outlet.RatingAmps);
}

/// <param name="HasNeutral">False: a leg-to-leg outlet with no neutral contact.</param>
/// <param name="Slip">The berth it serves, if any.</param>
public sealed record OutletDefinition(
    string Name, double RatingAmps, LegList Legs, bool HasNeutral, string? Slip)
{
    /// <summary>Whether it is fed from a leg.</summary>
    public bool IsOn(Leg leg)
    {
        for (var at = 0; at < Legs.Count; at++)
            if (Legs[at] == leg)
                return true;
        return false;
    }

    /// <summary>Of its breaker; null: that of the site.</summary>
    public BreakerFamily? Breaker { get; init; }
}

public sealed record SlipDefinition(string Name, double? LengthMetres, double? BeamMetres, double? DepthMetres);
