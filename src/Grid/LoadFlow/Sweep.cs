using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Farberth.Grid.Network;

namespace Farberth.Grid.LoadFlow;

/// <summary>Unbalanced load flow of a radial feeder by backward/forward sweep.</summary>
/// <remarks>
/// State: U_i, the leg-to-neutral volts of bus i, and J_i, the leg currents of the branch that feeds it, outwards.
/// The neutral is not a state: its current is −ΣJ and its drop is in the loop impedance (ImpedanceMatrix.Loop), exactly.
///   backward, from the outermost bus inwards:  J_i = I_i(U_i) + Σ_children J_c
///   forward, from the root outwards:           U_i = U_parent − Z_i·J_i
/// Started from U = E everywhere (a flat start). The map is a contraction with about the factor |Z·S|/|U|²,
/// the share of the volts that is lost, so an ordinary dock gains a digit an iteration. The factor reaches 1 just where two solutions
/// meet and vanish: the sweep finds the upper solution wherever there is one, more and more slowly towards that point.
/// Source for the method: Kersting, Distribution System Modeling and Analysis, the ladder iterative technique.
/// </remarks>
public static class Sweep
{
    /// <summary>Solves from a flat start. Allocates nothing when it converges.</summary>
    /// <param name="state">Overwritten.</param>
    public static LoadFlowResult Solve(LoadSet loads, LoadFlowState state, StoppingRule rule)
    {
        FlatStart(loads, state);
        return Resume(loads, state, rule);
    }

    public static LoadFlowResult Solve(LoadSet loads) =>
        Solve(loads, new LoadFlowState(loads.Feeder), StoppingRule.Usual);

    /// <summary>Solves from the volts that stand in the state: fewer iterations where little has changed.</summary>
    /// <param name="state">Overwritten.</param>
    public static LoadFlowResult Resume(LoadSet loads, LoadFlowState state, StoppingRule rule)
    {
        var (iterations, mismatch) = Iterate(loads, state, rule);
        if (mismatch <= rule.Tolerance)
            return new(LoadFlowStatus.Converged, iterations, mismatch, 1, state);

        var share = SolvableShare(loads, state, rule);
        var status = share < 1 ? LoadFlowStatus.NoSolution : LoadFlowStatus.IterationLimit;
        return new(status, iterations, mismatch, share, state);
    }

    static (int Iterations, double Mismatch) Iterate(LoadSet loads, LoadFlowState state, StoppingRule rule)
    {
        var nominalVolts = loads.Feeder.Supply.NominalVolts;
        state.Volts[0] = loads.Feeder.OpenCircuit;
        PutAllAmps(loads, state);
        for (var iteration = 1; ; iteration++)
        {
            Backward(loads.Feeder, state);
            var mismatch = Forward(loads, state) / nominalVolts;
            if (mismatch <= rule.Tolerance || iteration >= rule.MaxIterations || !double.IsFinite(mismatch))
            {
                Backward(loads.Feeder, state);
                return (iteration, state.IsFinite ? mismatch : double.NaN);
            }
        }
    }

    static void FlatStart(LoadSet loads, LoadFlowState state) => Array.Fill(state.Volts, loads.Feeder.OpenCircuit);

    static void PutAllAmps(LoadSet loads, LoadFlowState state)
    {
        for (var bus = 0; bus < state.Volts.Length; bus++)
            loads.PutAmps(bus, state, state.Volts[bus]);
    }

    /// <summary>Gathers the loads' amps, which the forward sweep left at each bus, into the branches.</summary>
    static void Backward(Feeder feeder, LoadFlowState state)
    {
        var (parent, amps) = (feeder.Parent, state.Amps);
        for (var bus = amps.Length - 1; bus > 0; bus--)
            amps[parent[bus]] += amps[bus];
    }

    /// <summary>Carries the volts outwards and leaves at each bus the amps its loads draw there.</summary>
    /// <returns>The largest move of any volts.</returns>
    [MethodImpl(MethodImplOptions.NoInlining)] // Inlined, it has more locals than the compiler keeps in registers.
    static double Forward(LoadSet loads, LoadFlowState state)
    {
        var (parent, loop) = (loads.Feeder.Parent, loads.Feeder.Loop);
        var (volts, amps) = (state.Volts, state.Amps);
        var threeLegs = loads.Feeder.Supply.IsThreePhase;
        var largest = Vector256<double>.Zero;
        loads.PutAmps(0, state, volts[0]);
        for (var bus = 1; bus < volts.Length; bus++)
        {
            var moved = volts[parent[bus]] - loop[bus].DropOf(amps[bus], threeLegs);
            largest = Vector256.MaxNative(largest, (moved - volts[bus]).Squared);
            volts[bus] = moved;
            loads.PutAmps(bus, state, moved);
        }
        return Math.Sqrt(Math.Max(Math.Max(largest[0], largest[1]), largest[2]));
    }

    /// <summary>
    /// Halves the interval between a share of the loads that solves and one that does not, and leaves the state at
    /// the last that does.
    /// </summary>
    static double SolvableShare(LoadSet loads, LoadFlowState state, StoppingRule rule)
    {
        var patient = rule with { MaxIterations = Math.Max(rule.MaxIterations, 1_000) };
        bool Solves(double share)
        {
            FlatStart(loads, state);
            return Iterate(loads.Scaled(share), state, patient).Mismatch <= rule.Tolerance;
        }

        var (solves, fails) = (0.0, 1.0);
        if (Solves(fails))
            return 1;
        while (fails - solves > 1e-4)
        {
            var share = (solves + fails) / 2;
            (solves, fails) = Solves(share) ? (share, fails) : (solves, share);
        }
        Solves(solves);
        return solves;
    }
}
