using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

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
    ByName<PedestalEstimate> Pedestals,
    ByName<CableEstimate> Cables)
{
    /// <summary>The readings of volts that do not fit the rest and were left out, worst first.</summary>
    public IReadOnlyList<DoubtfulReading> Doubtful { get; init; } = [];

    /// <summary>The load flow of the measured amps from the site file's no-load volts, alike on every leg, with sound neutrals.</summary>
    public LoadFlowState AtNoLoadVolts => SolveAtNoLoadVolts.Value;

    /// <summary>Few ask for it.</summary>
    public required Lazy<LoadFlowState> SolveAtNoLoadVolts { get; init; }

    /// <summary>The same amps from the source as it stood a tick ago, leg by leg.</summary>
    public required LoadFlowState FromSource { get; init; }

    /// <summary>How well all readings that were kept go together.</summary>
    public DockFit Fit { get; init; } = new(0, 0);

    /// <summary>The pedestals of which the meters do not determine the volts or the amps.</summary>
    public IReadOnlyList<UnobservedPedestal> Unobserved => LookForUnobserved.Value;

    /// <summary>Few ask for them.</summary>
    internal Lazy<IReadOnlyList<UnobservedPedestal>> LookForUnobserved { get; init; } = new([]);

    /// <summary>Each voltmeter that has spoken since the estimate before, beside what all the others say.</summary>
    public IReadOnlyList<MeterCheck> Meters { get; init; } = [];

    /// <summary>Leg to neutral behind the transformer, V: what the supply gives when the dock draws nothing.</summary>
    public PerLeg OpenCircuitVolts { get; init; } = PerLeg.None;
}

/// <summary>
/// The sum of squared residuals against what chance would give, which is χ². Where chance would give as much less than once in
/// a thousand, the model is wrong somewhere that no single reading shows (a length, a leg, a splice).
/// </summary>
/// <param name="Degrees">Volts that were read and kept.</param>
public sealed record DockFit(double SquaredResiduals, int Degrees)
{
    const double TooRare = 0.001;

    /// <summary>Of a larger sum, if all is as assumed.</summary>
    public double Chance { get; } = ChiSquare.ChanceAbove(SquaredResiduals, Degrees);

    /// <summary>What every standard deviation is multiplied by, so that it stays honest where the model is wrong: √(χ²/ν), else 1.</summary>
    public double Widening => Chance < TooRare ? Math.Sqrt(SquaredResiduals / Degrees) : 1;
}

/// <param name="Volts">They are not determined: one standard deviation is more than 1 % of nominal on some leg.</param>
/// <param name="Amps">Nobody measures them now on some leg, and one standard deviation is more than a tenth of what its outlets there are rated for.</param>
public sealed record UnobservedPedestal(string Pedestal, bool Volts, bool Amps);

/// <param name="ReadVolts">As read, without any correction.</param>
/// <param name="OthersVolts">By all other readings.</param>
/// <param name="OthersSd">One standard deviation of <paramref name="OthersVolts"/>; infinity where none speaks of it.</param>
/// <param name="Others">How many others there are on its leg.</param>
public readonly record struct MeterCheck(string Pedestal, Leg Leg, double ReadVolts, double OthersVolts, double OthersSd, int Others);

/// <param name="Volts">Leg to neutral, V.</param>
/// <param name="VoltsSd">One standard deviation of <paramref name="Volts"/>, V.</param>
/// <param name="Amps">All its outlets together, A.</param>
public sealed record PedestalEstimate(PerLeg Volts, PerLeg VoltsSd, PerLeg Amps)
{
    /// <summary>One standard deviation of <see cref="Amps"/>, A.</summary>
    public PerLeg AmpsSd { get; init; } = PerLeg.None;
}

/// <param name="Amps">In each conductor, all sets together, A.</param>
/// <param name="DropVolts">Lost along each conductor, V.</param>
/// <param name="AmpacityAmps">What each leg carries continuously in its raceway now.</param>
/// <param name="Load">Highest share of the ampacity in any conductor.</param>
/// <param name="ConductorCelsius">Of the leg conductors, modelled.</param>
public sealed record CableEstimate(
    PerLeg Amps, PerLeg DropVolts, double AmpacityAmps, double Load, double ConductorCelsius)
{
    /// <summary>One standard deviation of <see cref="Amps"/>, A; of the neutral's as if the legs erred independently.</summary>
    public PerLeg AmpsSd { get; init; } = PerLeg.None;
}
