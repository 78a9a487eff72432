namespace Farberth.Planning.Placement;

/// <summary>Which sag is aimed at next, and among which berths: among all when the nearer reach finds nothing better.</summary>
/// <param name="mostFailures">Near by.</param>
sealed class AimLadder(int mostFailures = int.MaxValue)
{
    double failedVolts;

    /// <summary>In halves of the resolution.</summary>
    int steps = 1;

    int failures;

    public Reach Reach { get; private set; }

    /// <summary>
    /// Near by, a step above what is out of reach, at most halfway to the best plan. Among all, what is just better: that there is no such plan is proof enough.
    /// </summary>
    /// <param name="settledVolts">Nothing nearer than that is in reach of <see cref="Reach.Rest"/>.</param>
    /// <returns>Null: there is nothing between.</returns>
    public double? Next(double boundVolts, double settledVolts, double bestVolts)
    {
        var resolution = PlacementSearch.ResolutionVolts(boundVolts);
        if (bestVolts - boundVolts <= resolution)
            return null;
        var low = Math.Max(settledVolts, failedVolts);
        if (Reach == Reach.Rest && failures < mostFailures && bestVolts - low > resolution)
            return Math.Min(low + steps * resolution / 2, (low + bestVolts) / 2);
        (Reach, failedVolts) = (Reach.All, Reach == Reach.All ? failedVolts : 0);
        return failedVolts > 0 ? null : bestVolts - resolution;
    }

    /// <summary>No plan was found there.</summary>
    public void Fail(double aimVolts) => (failedVolts, steps, failures) = (aimVolts, 2 * steps, failures + 1);
}
