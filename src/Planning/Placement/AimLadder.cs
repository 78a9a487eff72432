namespace Farberth.Planning.Placement;

/// <summary>Which sag is aimed at next while the boats that are settled stay where they are.</summary>
/// <param name="mostFailures">So often nothing may be found.</param>
sealed class AimLadder(int mostFailures = int.MaxValue)
{
    double failedVolts;

    /// <summary>In halves of the resolution.</summary>
    int steps = 1;

    int failures;

    /// <summary>A step above what is out of reach, at most halfway to the best plan.</summary>
    /// <param name="settledVolts">Nothing less is in reach.</param>
    /// <returns>Null: there is nothing between that is worth looking for.</returns>
    public double? Next(double settledVolts, double bestVolts, double resolutionVolts)
    {
        var low = Math.Max(settledVolts, failedVolts);
        return failures >= mostFailures || bestVolts - low <= resolutionVolts
            ? null : Math.Min(low + steps * resolutionVolts / 2, (low + bestVolts) / 2);
    }

    /// <summary>No plan was found there.</summary>
    public void Fail(double aimVolts) => (failedVolts, steps, failures) = (aimVolts, 2 * steps, failures + 1);
}
