namespace Farberth.Planning.Placement;

/// <summary>How long a plan may take. The same list, workers and seed give the same plan unless the time runs out; with several workers not even then.</summary>
/// <param name="Limit">Of the search; the first plan and the words take seconds at most.</param>
/// <param name="Workers">Of the integer program at once; 0: one for each core.</param>
/// <param name="Clock">What the limit is measured by; nothing else depends on it.</param>
/// <param name="Seed">Of everything that is drawn by lot.</param>
public sealed record PlacementEffort(TimeSpan Limit, int Workers, TimeProvider Clock, int Seed)
{
    public static PlacementEffort Usual(TimeProvider clock) => new(TimeSpan.FromSeconds(30), 1, clock, 1);
}

/// <summary>How a search goes on.</summary>
public abstract record PlacementProgress
{
    PlacementProgress()
    {
    }

    /// <summary>A first plan is made, boat by boat.</summary>
    public sealed record FirstPlan(int Boats, int Of) : PlacementProgress;

    /// <summary>More boats are sought a place for.</summary>
    /// <param name="Least">No plan leaves fewer without.</param>
    public sealed record Places(int Without, int Least) : PlacementProgress;

    /// <summary>The lowest volts are lifted.</summary>
    /// <param name="SagVolts">Of the best plan so far.</param>
    /// <param name="BoundVolts">No plan has less.</param>
    public sealed record Sag(double SagVolts, double BoundVolts) : PlacementProgress;

    /// <summary>Wishes, and the volts of the other docks.</summary>
    public sealed record Rest : PlacementProgress;

    /// <summary>The plan is put into words.</summary>
    public sealed record Words : PlacementProgress;
}
