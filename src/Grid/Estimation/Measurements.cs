using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

/// <summary>
/// What is measured on a feeder, each with its standard deviation: volts from leg to neutral at buses, and the amps that
/// loads draw. A bus without a load draws exactly nothing; a load that nobody measures has a guess with a large sd.
/// </summary>
public sealed class Measurements(Feeder feeder)
{
    /// <summary>Exactly nothing, as far as arithmetic wants to know.</summary>
    const double NothingAmps = 1e-4;

    internal Measured[] Volts { get; } = new Measured[feeder.Buses.Count * MaxLegs];

    internal Measured[] Amps { get; } = Enumerable.Repeat(new Measured(0, NothingAmps), feeder.Buses.Count * MaxLegs).ToArray();

    internal const int MaxLegs = 3;

    public Feeder Feeder { get; } = feeder;

    internal Triple AmpsAt(int bus) => new(
        Amps[bus * MaxLegs].Value, Amps[bus * MaxLegs + 1].Value, Amps[bus * MaxLegs + 2].Value);

    /// <exception cref="KeyNotFoundException">No bus of that name.</exception>
    public void SetVolts(string bus, Leg leg, double volts, double sd) => SetVolts(Feeder[bus], leg, volts, sd);

    /// <param name="bus">Its position in the feeder.</param>
    public void SetVolts(int bus, Leg leg, double volts, double sd) => Volts[bus * MaxLegs + (int)leg] = new(volts, sd);

    /// <summary>What the source is stated to hold without load; not stated, it is what the load flow started from.</summary>
    public void SetSource(Leg leg, double volts) => Volts[(int)leg] = new(volts, double.PositiveInfinity);

    /// <summary>Leaves the volts of a bus and leg unmeasured.</summary>
    public void ClearVolts(string bus, Leg leg) => Volts[Feeder[bus] * MaxLegs + (int)leg] = default;

    /// <exception cref="KeyNotFoundException">No bus of that name.</exception>
    public void SetAmps(string bus, Leg leg, double amps, double sd) => SetAmps(Feeder[bus], leg, amps, sd);

    /// <param name="bus">Its position in the feeder.</param>
    public void SetAmps(int bus, Leg leg, double amps, double sd) =>
        Amps[bus * MaxLegs + (int)leg] = new(amps, Math.Max(sd, NothingAmps));
}

/// <summary>A number and its standard deviation; sd 0: not measured.</summary>
readonly record struct Measured(double Value, double Sd)
{
    public bool IsThere => Sd > 0;
}
