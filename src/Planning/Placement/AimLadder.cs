namespace Farberth.Planning.Placement;

/// <summary>Which sag is aimed at next, and among how many berths: first among few, until a good plan is known, then among all.</summary>
sealed class AimLadder
{
    /// <summary>Berths of each guest at each dock.</summary>
    public const int Narrow = 8, Wide = int.MaxValue;

    const double FirstStepVolts = PlacementSearch.ResolutionVolts / 2;

    double failedVolts;
    double stepVolts = FirstStepVolts;

    public bool IsWide { get; private set; }

    public int Width => IsWide ? Wide : Narrow;

    /// <summary>A step above what is known to be out of reach, at most halfway to the best plan; null: there is nothing between.</summary>
    public double? Next(double boundVolts, double bestVolts)
    {
        if (!IsWide && bestVolts - Math.Max(boundVolts, failedVolts) <= PlacementSearch.ResolutionVolts)
            (IsWide, failedVolts, stepVolts) = (true, 0, FirstStepVolts);
        var low = Math.Max(boundVolts, failedVolts);
        return bestVolts - low <= PlacementSearch.ResolutionVolts ? null : Math.Min(low + stepVolts, (low + bestVolts) / 2);
    }

    /// <summary>No plan was found there.</summary>
    public void Fail(double aimVolts) => (failedVolts, stepVolts) = (aimVolts, 2 * stepVolts);
}
