using System.Numerics;
using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

/// <summary>What one ampere at one bus does to the volts of another: the loop impedance of the way that both share.</summary>
/// <remarks>
/// One ampere more on leg m at bus q lowers leg k at bus p, both in phase with their legs' no-load phasors u, by
///   A_km = Re(u_k*·Σ_shared Z_km·u_m),  Z the loop impedance.
/// </remarks>
public sealed class SharedDrops
{
    readonly Feeder feeder;
    readonly int legs;
    readonly double[][] perAmp;

    public SharedDrops(Feeder feeder)
    {
        (this.feeder, legs) = (feeder, feeder.Supply.Legs.Count);
        perAmp = new double[feeder.Buses.Count][];
        perAmp[0] = new double[legs * legs];
        Complex[] u = [.. feeder.Supply.Legs.Select(feeder.Supply.Direction)];
        for (var bus = 1; bus < perAmp.Length; bus++)
        {
            perAmp[bus] = [.. perAmp[feeder.Parent[bus]]];
            for (var at = 0; at < legs * legs; at++)
                perAmp[bus][at] += (Complex.Conjugate(u[at / legs]) * feeder.Loop[bus][at / legs, at % legs] * u[at % legs]).Real;
        }
    }

    /// <summary>By how many amps each load differs from what was computed with, to the volts that a leg of a bus has less.</summary>
    /// <param name="amps">At [bus · legs + leg] in the feeder's order.</param>
    public double Volts(string bus, Leg leg, ReadOnlySpan<double> amps)
    {
        var (volts, at) = (0.0, feeder[bus]);
        for (var load = 0; load < amps.Length; load++)
            if (amps[load] != 0)
                volts += amps[load] * PerAmp(at, (int)leg, load);
        return volts;
    }

    /// <summary>By how many volts a load on one leg of this bus moves the neutral point while it lowers the mean of the legs by one: 1 + 2·Z_N/Z_leg on two legs, 2 + 3·Z_N/Z_leg on three.</summary>
    /// <returns>The most that any leg makes; 0 without impedance.</returns>
    public double ShiftPerFall(string bus) => feeder.Supply.Legs.Max(load =>
    {
        var ofLoad = perAmp[feeder[bus]];
        var (shift, mean) = NeutralShift.OfResiduals(
            feeder.Supply, feeder.Supply.Legs.Aggregate(PerLeg.None, (all, leg) => all.With(leg, -ofLoad[(int)leg * legs + (int)load])));
        return mean < 0 ? shift.Magnitude / -mean : 0;
    });

    /// <param name="load">bus · legs + leg.</param>
    internal double PerAmp(int bus, int leg, int load) => perAmp[Fork(bus, load / legs)][leg * legs + load % legs];

    /// <summary>The outermost bus on the ways to both; a bus always comes after the one that feeds it.</summary>
    internal int Fork(int one, int other)
    {
        while (one != other)
            (one, other) = one > other ? (feeder.Parent[one], other) : (one, feeder.Parent[other]);
        return one;
    }
}
