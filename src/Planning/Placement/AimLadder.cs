namespace Farberth.Planning.Placement;

/// <summary>Among which berths plans are sought.</summary>
enum Reach
{
    /// <summary>Boats that the relaxation lays whole into a berth stay there, the others have a few.</summary>
    Rest,

    /// <summary>A few berths of each guest at each dock.</summary>
    Few,

    /// <summary>All that are possible.</summary>
    All,
}

/// <summary>Which sag is aimed at next, and among which berths: the further reach begins when the nearer one finds nothing better.</summary>
sealed class AimLadder
{
    const double FirstStepVolts = PlacementSearch.ResolutionVolts / 2;

    double failedVolts;
    double stepVolts = FirstStepVolts;

    public Reach Reach { get; private set; }

    /// <summary>A step above what is out of reach, at most halfway to the best plan; null: there is nothing between.</summary>
    public double? Next(double boundVolts, double bestVolts)
    {
        while (Reach < Reach.All && bestVolts - Math.Max(boundVolts, failedVolts) <= PlacementSearch.ResolutionVolts)
            (Reach, failedVolts, stepVolts) = (Reach + 1, 0, FirstStepVolts);
        var low = Math.Max(boundVolts, failedVolts);
        return bestVolts - low <= PlacementSearch.ResolutionVolts ? null : Math.Min(low + stepVolts, (low + bestVolts) / 2);
    }

    /// <summary>No plan was found there.</summary>
    public void Fail(double aimVolts) => (failedVolts, stepVolts) = (aimVolts, 2 * stepVolts);
}
