namespace Farberth.Planning.Placement;

/// <summary>Better plans than the best one so far by <see cref="PlanAnnealing"/>, again and again.</summary>
sealed class AnnealedPlans(PlacementTrials trials, double share)
{
    /// <summary>Moves of one search for a plan that is a tenth better, and of one close to what is possible, for each guest.</summary>
    const int RoughMoves = 2_500, FineMoves = 10_000;

    const int MostRounds = 12;

    /// <summary>What the rows allowed and the load flow did not: with the rows that were missing it is begun from there.</summary>
    Plan? unconfirmed;

    /// <summary>A tenth better as long as that goes on: a plan close enough to the best of all that the rows may be those about it.</summary>
    public void Approach()
    {
        for (var round = 0; round < MostRounds && trials.IsTime(share); round++)
            if (!Step(0.9 * trials.SagVolts, RoughMoves) && unconfirmed is null)
                break;
        unconfirmed = null;
    }

    /// <returns>There is a better plan than before, or one that new rows may lead to.</returns>
    public bool Step(double aimVolts) => Step(aimVolts, FineMoves) || unconfirmed != null;

    bool Step(double aimVolts, int movesForEach)
    {
        var before = trials.SagVolts;
        var annealing = new PlanAnnealing(trials.Rows, unconfirmed ?? trials.Best.Plan, aimVolts, trials.Lots);
        var isFound = annealing.Run(movesForEach * trials.Problem.Guests.Count, () => !trials.IsTime(share));
        var plan = annealing.Plan;
        var isConfirmed = trials.Judge(plan, aimVolts + annealing.MissedVolts, PlacementSearch.ResolutionVolts(aimVolts) / 2);
        unconfirmed = isFound && !isConfirmed ? plan : null;
        return trials.SagVolts < before;
    }
}
