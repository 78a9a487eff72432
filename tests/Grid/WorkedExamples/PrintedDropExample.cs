using Farberth.Grid.Conductors;
using Farberth.Grid.Network;

namespace Farberth.Grid.Tests.WorkedExamples;

/// <summary>What hangs at the end of the cable, and between which conductors the printed volts are.</summary>
public enum DropLoading
{
    /// <summary>One leg loaded against a neutral like it; the drop there and back, 2·I·Z.</summary>
    LegToNeutral,

    /// <summary>L1 loaded against L2 and nothing in the neutral; the drop in L1–L2 volts, 2·I·Z.</summary>
    LegToLeg,

    /// <summary>Three equal legs; the drop in line-to-line volts, √3·I·Z.</summary>
    ThreeLegs,
}

/// <summary>A voltage drop that a handbook, table or course prints, with all its inputs.</summary>
/// <param name="Amps">RMS current of one leg.</param>
/// <param name="PowerFactor">Lagging.</param>
/// <param name="LengthMetres">One way.</param>
/// <param name="ConductorText">As in a site file.</param>
/// <param name="ConductorCelsius">The temperature that the printed resistance is for.</param>
/// <param name="ToleranceVolts">
/// What rounding explains: of the printed answer, and of the R and X that its author took. A solver that keeps the part
/// of the drop across the voltage differs by a further (I·(X·cosθ − R·sinθ))²/2V.
/// </param>
public sealed record PrintedDropExample(
    string Name,
    SupplySystem Supply,
    DropLoading Loading,
    double Amps,
    double PowerFactor,
    double LengthMetres,
    string ConductorText,
    Raceway Raceway,
    double ConductorCelsius,
    double PrintedVolts,
    double ToleranceVolts,
    string Source)
{
    public override string ToString() => Name;
}
