using Farberth.Grid.Conductors;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>
/// How warm one cable's conductors are. Heat made goes with I², heat shed with the rise over the raceway; the mass of
/// cable and raceway makes the rise follow with one time constant τ:
///   q ← q + (I² − q)·(1 − e^(−Δt/τ)),   T = Ta + (Tc − 30)·q / Iz30²
/// with Iz30 the table's ampacity at 30 °C in the column Tc. τ = 20 min is assumed: no published figure for docks was found.
/// </summary>
sealed class CableHeat(CableDefinition cable)
{
    static readonly TimeSpan τ = TimeSpan.FromMinutes(20);

    double legSquaredAmps;
    double neutralSquaredAmps;
    bool isFirst = true;

    public double LegCelsius(double racewayCelsius) => Celsius(cable.Conductor, racewayCelsius, legSquaredAmps);

    public double NeutralCelsius(double racewayCelsius) => Celsius(cable.Neutral, racewayCelsius, neutralSquaredAmps);

    /// <summary>Follows the amps of the time since the last tick. The first tick takes them as having flowed for long.</summary>
    public void Follow(PerLeg amps, TimeSpan elapsed)
    {
        var step = isFirst ? 1 : 1 - Math.Exp(-elapsed / τ);
        var hottest = double.MaxNumber(amps.L1, double.MaxNumber(amps.L2, amps.L3)); // no number where there is no leg
        legSquaredAmps += (hottest * hottest - legSquaredAmps) * step;
        neutralSquaredAmps += (amps.N * amps.N - neutralSquaredAmps) * step;
        isFirst = false;
    }

    double Celsius(Conductor conductor, double racewayCelsius, double squaredAmps) => ConductorTemperature.Celsius(
        racewayCelsius, Math.Sqrt(squaredAmps), conductor.AmpacityAt30Amps(cable.Rating) * cable.Sets, cable.Rating);

    public CableHeatMemory Memory() => new(legSquaredAmps, neutralSquaredAmps, isFirst);

    public void Resume(CableHeatMemory memory) =>
        (legSquaredAmps, neutralSquaredAmps, isFirst) = (memory.LegSquaredAmps, memory.NeutralSquaredAmps, memory.IsFirst);
}

sealed record CableHeatMemory(double LegSquaredAmps, double NeutralSquaredAmps, bool IsFirst);
