using System.Numerics;

namespace Farberth.Grid.Network;

/// <summary>A conductor of the dock feeder. The order is that of the lanes of the load flow: the neutral comes last.</summary>
public enum Leg
{
    L1,
    L2,
    L3,
    N,
}

/// <summary>One kind of low-voltage supply: its legs, the nominal volts from leg to neutral, and where each leg's phasor stands.</summary>
/// <param name="Name">As written in a site file.</param>
/// <param name="NominalVolts">RMS volts, leg to neutral.</param>
/// <param name="Hertz">Supply frequency.</param>
/// <param name="Degrees">Angle of each leg's no-load phasor, L1 first; its length is the number of legs.</param>
public sealed record SupplySystem(string Name, double NominalVolts, double Hertz, IReadOnlyList<double> Degrees)
{
    public static readonly SupplySystem SplitPhase120 = new("120/240 V single-phase 3-wire", 120, 60, [0, 180]);
    public static readonly SupplySystem Wye208 = new("208Y/120 V", 120, 60, [0, -120, 120]);
    public static readonly SupplySystem Wye400 = new("400Y/230 V", 230, 50, [0, -120, 120]);
    public static readonly SupplySystem SinglePhase230 = new("230 V single-phase", 230, 50, [0]);

    public static readonly IReadOnlyList<SupplySystem> All = [SplitPhase120, Wye208, Wye400, SinglePhase230];

    /// <summary>The line conductors, without the neutral.</summary>
    public LegList Legs { get; } = [.. Degrees.Select((_, lane) => (Leg)lane)];

    public bool IsThreePhase => Degrees.Count == 3;

    readonly Complex[] directions = [.. Degrees.Select(degrees => Complex.FromPolarCoordinates(1, degrees * Math.PI / 180))];

    /// <summary>Unit phasor of a leg at no load.</summary>
    public Complex Direction(Leg leg) => directions[(int)leg];

    public override string ToString() => Name;
}
