namespace Farberth.Planning.Placement;

/// <summary>Which sag is aimed at next, and among which berths: the further reach begins when the nearer one finds nothing better.</summary>
sealed class AimLadder
{
    double failedVolts;

    /// <summary>In halves of the resolution.</summary>
    int steps = 1;

    public Reach Reach { get; private set; }

    /// <summary>A step above what is out of reach, at most halfway to the best plan; null: there is nothing between.</summary>
    /// <param name="settledVolts">Nothing is nearer than that in reach of <see cref="Reach.Rest"/>.</param>
    public double? Next(double boundVolts, double settledVolts, double bestVolts)
    {
        var resolution = PlacementSearch.ResolutionVolts(boundVolts);
        if (bestVolts - boundVolts <= resolution)
            return null;
        if (Reach == Reach.Rest && bestVolts - Math.Max(settledVolts, failedVolts) <= resolution)
            (Reach, failedVolts, steps) = (Reach.All, 0, 1);
        var low = Math.Max(Reach == Reach.Rest ? settledVolts : boundVolts, failedVolts);
        return bestVolts - low <= resolution ? null : Math.Min(low + steps * resolution / 2, (low + bestVolts) / 2);
    }

    /// <summary>No plan was found there.</summary>
    public void Fail(double aimVolts) => (failedVolts, steps) = (aimVolts, 2 * steps);
}
