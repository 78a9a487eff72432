using System.Numerics;
using Farberth.Grid.Network;

namespace Farberth.HotAfternoon;

/// <summary>One cable as it really lies there: its hidden length and joints, and its temperature.</summary>
/// <remarks>
/// Z = ℓ·(1 + ε)·(r₂₀·(1 + α·(T − 20 °C)) + jx) + R_joint, per conductor; in the neutral also what has failed of it; ε is drawn once per cable, R_joint adds the
/// scenario's worse joints to the ordinary ones.
/// </remarks>
public sealed class FeederCable
{
    readonly CableRun run;
    readonly double length;
    readonly double[] jointOhms;
    readonly NeutralFaultPlan[] neutralFaults;
    readonly CableHeat heat;

    /// <param name="lanes">Legs and neutral.</param>
    /// <param name="random">The cable's own random numbers.</param>
    public FeederCable(CableRun run, int lanes, FeederPlan plan, double airCelsius, NamedRandom random)
    {
        this.run = run;
        length = run.LengthMetres * Math.Max(0.5, 1 + plan.LengthError * random.Normal());
        jointOhms = [.. Enumerable.Repeat(plan.JointOhms, lanes)];
        foreach (var joint in plan.Joints.Where(joint => joint.Cable == run.To))
            jointOhms[joint.Conductor == Leg.N ? lanes - 1 : (int)joint.Conductor] += joint.Ohms;
        neutralFaults = [.. plan.NeutralFaults.Where(fault => fault.Cable == run.To)];
        heat = new CableHeat(run.AmpacityAmps, airCelsius);
    }

    public double Celsius => heat.Celsius;

    public Complex Ohms(int lane, DateTime local)
    {
        var isNeutral = lane == jointOhms.Length - 1;
        var wire = isNeutral ? run.Neutral : run.Line;
        var r = wire.OhmsPerMetreAt20 * (1 + wire.PerKelvin * (heat.Celsius - 20));
        return length * new Complex(r, wire.ReactanceOhmsPerMetre) + jointOhms[lane]
            + (isNeutral ? neutralFaults.Sum(fault => fault.OhmsAt(local)) : 0);
    }

    public void Step(double seconds, double surroundingsCelsius, double amps) =>
        heat.Step(seconds, surroundingsCelsius, amps);
}
