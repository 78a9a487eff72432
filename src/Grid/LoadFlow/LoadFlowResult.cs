using Farberth.Grid.Network;

namespace Farberth.Grid.LoadFlow;

public enum LoadFlowStatus
{
    /// <summary>The volts moved by less than the tolerance in the last iteration.</summary>
    Converged,

    /// <summary>A solution exists, but the iterations allowed did not reach it.</summary>
    IterationLimit,

    /// <summary>The loads ask for more than the feeder can carry at any volts.</summary>
    NoSolution,
}

/// <summary>When a solve stops.</summary>
/// <param name="Tolerance">Largest move of any volts in one iteration, as a share of the nominal volts.</param>
/// <param name="MaxIterations">Near the point of collapse the sweep is slow: one digit then takes many iterations.</param>
public readonly record struct StoppingRule(double Tolerance, int MaxIterations)
{
    public static readonly StoppingRule Usual = new(1e-8, 200);
}

/// <summary>How a solve ended. Never an exception: a feeder that cannot carry its loads is an answer.</summary>
/// <param name="Mismatch">Largest move of any volts in the last iteration, as a share of the nominal volts.</param>
/// <param name="SolvableShare">
/// 1 when converged; else the largest share of all loads together for which a solution was found.
/// </param>
/// <param name="State">The volts and amps, at <paramref name="SolvableShare"/> of the loads where there is no solution.</param>
public readonly record struct LoadFlowResult(
    LoadFlowStatus Status, int Iterations, double Mismatch, double SolvableShare, LoadFlowState State)
{
    public bool Converged => Status == LoadFlowStatus.Converged;

    /// <summary>How far past the last solvable point the loads are: 0.2 means 20 % more than can be carried.</summary>
    public double ShareTooMuch => 1 / SolvableShare - 1;

    /// <summary>Where the volts are lowest against the nominal: the bus and leg to look at first.</summary>
    public (string Bus, Leg Leg) Weakest
    {
        get
        {
            var state = State;
            return state.Feeder.Buses
                .SelectMany(bus => state.Feeder.Supply.Legs.Select(leg => (bus, leg)))
                .MinBy(place => state.VoltsAt(place.bus, place.leg).Magnitude);
        }
    }

    public override string ToString() => Status switch
    {
        LoadFlowStatus.Converged => $"converged in {Iterations} iterations",
        LoadFlowStatus.IterationLimit => $"not converged in {Iterations} iterations",
        _ => $"no solution: the loads are {ShareTooMuch:P0} more than the feeder can carry, "
            + $"weakest at {Weakest.Bus} {Weakest.Leg}",
    };
}
