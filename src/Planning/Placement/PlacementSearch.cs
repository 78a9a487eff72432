namespace Farberth.Planning.Placement;

/// <summary>How good a plan is, and how sure that is.</summary>
/// <param name="SagVolts">Of the plan, by the full load flow.</param>
/// <param name="BoundVolts">No plan has less, as far as the sensitivities hold.</param>
/// <param name="IsProven">No plan has more places or fewer moves, and none has less sag by more than <see cref="PlacementSearch.ResolutionVolts"/>.</param>
/// <param name="Rounds">How often a plan was put through the full load flow.</param>
public sealed record PlacementProof(double SagVolts, double BoundVolts, bool IsProven, int Rounds);

/// <summary>Places, then sag, then wishes; each plan is verified, and what the load flow does not confirm is cut off.</summary>
/// <param name="start">A plan that may be used.</param>
sealed class PlacementSearch(PlacementProblem problem, PlacementEffort effort, PlanCheck start, Action<PlacementProgress>? progress, CancellationToken stop)
{
    const int MostRounds = 100;

    /// <summary>Of the time, what places and sag may take at most; wishes have the rest, are seldom proven, and not waited for.</summary>
    const double ShareForPlaces = 0.3, ShareForSag = 0.8;

    readonly PlacementTrials trials = new(problem, effort, start, stop);

    /// <summary>No plan is worth looking for that is better by less: 1 %, or what the sensitivities are good for where that is more, V.</summary>
    public static double ResolutionVolts(double sagVolts) => Math.Max(0.02, 0.01 * sagVolts);

    public (PlanCheck Check, PlacementProof Proof) Run()
    {
        var arePlacesProven = Mark(trials.Best) == 0 || Places();
        var bound = Sag();
        Rest(Math.Max(trials.SagVolts, bound + ResolutionVolts(bound)));
        var sag = trials.SagVolts;
        return (trials.Best, new(sag, Math.Min(bound, sag), arePlacesProven && sag <= bound + ResolutionVolts(bound), trials.Rounds));
    }

    /// <summary>Boats without a place count more than all moves together.</summary>
    double Mark(PlanCheck check) => (problem.Guests.Count - check.Plan.Berths.Count) * (problem.Guests.Count + 1.0) + check.Plan.Moved;

    /// <returns>That no plan is better is proven.</returns>
    bool Places()
    {
        using var relaxation = new PlacementRelaxation(problem, trials.Rows, trials.Best.Plan, isForPlaces: true);
        var relaxed = trials.Relax(relaxation, ShareForPlaces);
        var reach = Reach.Few;
        for (var round = 0; relaxed != null && round < MostRounds && trials.IsTime(ShareForPlaces); round++)
        {
            var least = Math.Ceiling(relaxed.Value - 1e-6);
            progress?.Invoke(new PlacementProgress.Places(Refused(Mark(trials.Best)), Refused(least)));
            if (Mark(trials.Best) <= least)
                return true;
            var model = trials.Model(trials.Columns(relaxed, reach, double.PositiveInfinity));
            model.Limit(double.PositiveInfinity);
            model.MinimizePlaces(least);
            model.Hint(trials.Best.Plan);
            var found = trials.Solve(model, PlacementTrials.AllWork, ShareForPlaces);
            if (found.Plan is not null && trials.Verified(found.Plan) is var check)
            {
                if (check.Broken.Count > 0)
                {
                    trials.Correct(check);
                    continue;
                }
                if (Mark(check) < Mark(trials.Best))
                    trials.Best = check;
            }
            if (reach == Reach.All)
                return found.IsOver;
            reach = Reach.All;
        }
        return false;
    }

    int Refused(double mark) => (int)(mark / (problem.Guests.Count + 1));

    /// <returns>No plan has less.</returns>
    double Sag()
    {
        new AnnealedPlans(trials, ShareForSag).Approach();
        trials.BeginAnew();
        using var search = new SagSearch(trials, progress, ShareForSag);
        search.Run();
        return search.BoundVolts;
    }

    /// <summary>Wishes, and the other docks, with no more sag of the site than this.</summary>
    void Rest(double mostSagVolts)
    {
        var best = trials.Best;
        using var relaxation = new PlacementRelaxation(problem, trials.Rows, best.Plan, isForPlaces: false);
        var share = Math.Min(1, trials.SpentShare + 1 - ShareForSag);
        var relaxed = trials.Relax(relaxation, share);
        for (var round = 0; relaxed != null && round < MostRounds && trials.IsTime(share); round++)
        {
            progress?.Invoke(new PlacementProgress.Rest());
            var narrow = trials.Columns(relaxed, Reach.Few, double.PositiveInfinity);
            var model = trials.Model([.. narrow.Union(trials.Rows.Choices.Where(best.Plan.Takes))]);
            model.Limit(mostSagVolts);
            model.Keep(best.Plan);
            model.MinimizeRest();
            model.Hint(best.Plan);
            if (trials.Solve(model, PlacementTrials.FewWork, share).Plan is not { } plan)
                break;
            var check = trials.Verified(plan);
            if (check.Broken.Count == 0 && check.SagVolts(problem) <= mostSagVolts)
            {
                trials.Best = RestOf(check) < RestOf(best) ? check : best;
                return;
            }
            trials.Correct(check);
        }
    }

    double RestOf(PlanCheck check) =>
        check.Lowest.Values.Sum(lowest => problem.ReferenceVolts - lowest.Value)
        + 0.5 * check.Plan.Berths.Count(pair => pair.Key.Arrival.HasWish && !pair.Key.Wishes(pair.Value));
}
