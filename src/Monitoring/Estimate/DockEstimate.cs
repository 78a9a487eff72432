using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Monitoring.Estimate;

/// <summary>Where the volts of one dock go at one moment: what all its meters together say. Keys are the site file's names.</summary>
/// <param name="SourceVolts">Leg to neutral at the point "source", V.</param>
/// <param name="SourceAmps">Of the whole dock, A, with the neutral.</param>
/// <param name="TransformerLoad">Share of the rating; null without a transformer.</param>
/// <param name="Cables">By outer end.</param>
public sealed record DockEstimate(
    DateTimeOffset Time,
    LoadFlowStatus Status,
    PerLeg SourceVolts,
    PerLeg SourceAmps,
    double SourceKilovoltAmperes,
    double? TransformerLoad,
    double RacewayCelsius,
    IReadOnlyDictionary<string, PedestalEstimate> Pedestals,
    IReadOnlyDictionary<string, CableEstimate> Cables)
{
    /// <summary>The readings of volts that do not fit the rest and were left out, worst first.</summary>
    public IReadOnlyList<DoubtfulReading> Doubtful { get; init; } = [];

    /// <summary>The load flow of the measured amps from the site file's no-load volts, alike on every leg, with sound neutrals.</summary>
    public required LoadFlowState AtNoLoadVolts { get; init; }
}

/// <param name="Volts">Leg to neutral, V.</param>
/// <param name="VoltsSd">One standard deviation of <paramref name="Volts"/>, V.</param>
/// <param name="Amps">All its outlets together, A.</param>
public sealed record PedestalEstimate(PerLeg Volts, PerLeg VoltsSd, PerLeg Amps);

/// <param name="Amps">In each conductor, all sets together, A.</param>
/// <param name="DropVolts">Lost along each conductor, V.</param>
/// <param name="AmpacityAmps">What each leg carries continuously in its raceway now.</param>
/// <param name="Load">Highest share of the ampacity in any conductor.</param>
/// <param name="ConductorCelsius">Of the leg conductors, modelled.</param>
public sealed record CableEstimate(
    PerLeg Amps, PerLeg DropVolts, double AmpacityAmps, double Load, double ConductorCelsius);
