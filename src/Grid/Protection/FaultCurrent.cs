using System.Numerics;
using Farberth.Grid.Network;

namespace Farberth.Grid.Protection;

/// <summary>What flows when conductors touch at one bus.</summary>
/// <param name="LoopOhms">Source, legs out and neutral back, of the leg with the largest loop.</param>
/// <param name="LeastLegToNeutralAmps">On the leg with the largest loop: what must still trip a breaker.</param>
/// <param name="LegToNeutralAmps">On the leg with the smallest loop.</param>
/// <param name="LegToLegAmps">0 where there is one leg.</param>
/// <param name="ThreePhaseAmps">0 where there are not three legs.</param>
public sealed record FaultLevel(
    string Bus, Complex LoopOhms, double LeastLegToNeutralAmps,
    double LegToNeutralAmps, double LegToLegAmps, double ThreePhaseAmps)
{
    /// <summary>The largest bolted fault current, for the interrupting rating of what stands here.</summary>
    public double MaximumAmps => Math.Max(LegToNeutralAmps, Math.Max(LegToLegAmps, ThreePhaseAmps));
}

/// <summary>
/// Bolted fault currents along a feeder. With U = E − Z·I, Z the sum of the loop matrices on the way:
///   leg k to neutral:      U_k = 0, others idle           I = E_k / Z_kk
///   leg j to leg k:        I_j = −I_k, U_j = U_k          I = (E_j − E_k) / (Z_jj + Z_kk − Z_jk − Z_kj)
///   three phases together: ΣI = 0, all U equal. With like legs each carries E_k / (Z_s − Z_m).
/// No arc, no contribution from motors. Use cold conductors for the largest current and hot ones for the smallest.
/// </summary>
public static class FaultCurrent
{
    /// <summary>Fault level of every bus but the root, in the feeder's order.</summary>
    public static IReadOnlyList<FaultLevel> Along(Feeder feeder) =>
        [.. feeder.Buses.Skip(1).Select(bus => At(feeder, bus))];

    /// <exception cref="KeyNotFoundException">No bus of that name.</exception>
    public static FaultLevel At(Feeder feeder, string bus)
    {
        var path = feeder.PathTo(bus).Aggregate(ImpedanceMatrix.Zero, (sum, branch) => sum + branch.Impedance);
        var legs = feeder.Supply.Legs;
        var toNeutral = legs.Select(leg => feeder.OpenCircuitVolts[(int)leg].Magnitude / path.Loop(leg, leg).Magnitude).ToList();
        var toLeg = legs.SelectMany(from => legs.Where(to => to > from).Select(to => LegToLeg(feeder, path, from, to)));
        return new FaultLevel(
            bus,
            legs.Select(leg => path.Loop(leg, leg)).MaxBy(loop => loop.Magnitude),
            toNeutral.Min(),
            toNeutral.Max(),
            toLeg.DefaultIfEmpty(0).Max(),
            feeder.Supply.IsThreePhase ? ThreePhase(feeder, path) : 0);
    }

    static double LegToLeg(Feeder feeder, ImpedanceMatrix path, Leg from, Leg to) =>
        ((feeder.OpenCircuitVolts[(int)from] - feeder.OpenCircuitVolts[(int)to])
            / (path.Loop(from, from) + path.Loop(to, to) - path.Loop(from, to) - path.Loop(to, from))).Magnitude;

    static double ThreePhase(Feeder feeder, ImpedanceMatrix path) =>
        feeder.Supply.Legs.Max(leg =>
        {
            var other = leg == Leg.L1 ? Leg.L2 : Leg.L1;
            return feeder.OpenCircuitVolts[(int)leg].Magnitude / (path.Loop(leg, leg) - path.Loop(leg, other)).Magnitude;
        });
}
