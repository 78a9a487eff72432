namespace Farberth.Planning.Placement;

/// <summary>How long a plan may take.</summary>
/// <param name="Limit">Of the solvers' searches together.</param>
/// <param name="Workers">Searches at once; 0: one for each core.</param>
public sealed record PlacementEffort(TimeSpan Limit, int Workers)
{
    public static PlacementEffort Usual { get; } = new(TimeSpan.FromSeconds(30), 1);
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
