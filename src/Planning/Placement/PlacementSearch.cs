namespace Farberth.Planning.Placement;

/// <summary>How good a plan is, and how sure that is.</summary>
/// <param name="SagVolts">Of the plan, by the full load flow.</param>
/// <param name="BoundVolts">No plan has less, as far as the sensitivities hold.</param>
/// <param name="IsProven">No plan has more places or fewer moves, and none has less sag by more than <see cref="PlacementSearch.ResolutionVolts"/>.</param>
/// <param name="Rounds">How often a plan was put through the full load flow.</param>
public sealed record PlacementProof(double SagVolts, double BoundVolts, bool IsProven, int Rounds);

/// <summary>Places, then sag, then wishes; each plan is verified, and what the load flow does not confirm is cut off.</summary>
sealed class PlacementSearch(PlacementProblem problem, PlacementEffort effort, Action<PlacementProgress>? progress, CancellationToken stop)
{
    const int MostRounds = 100;

    /// <summary>Of the time, what places and sag may take at most; wishes have the rest, are seldom proven, and not waited for.</summary>
    const double ShareForPlaces = 0.3, ShareForSag = 0.8;

    readonly PlacementTrials trials = new(problem, effort, stop);

    /// <summary>No plan is worth looking for that is better by less: 1 %, or what the sensitivities are good for where that is more, V.</summary>
    public static double ResolutionVolts(double sagVolts) => Math.Max(0.02, 0.01 * sagVolts);

    /// <param name="start">A plan that may be used.</param>
    public (PlanCheck Check, PlacementProof Proof) Run(PlanCheck start)
    {
        var (best, arePlacesProven) = Mark(start) > 0 ? Places(start) : (start, true);
        (best, var bound) = Sag(best);
        best = Rest(best, Math.Max(best.SagVolts(problem), bound + ResolutionVolts(bound)));
        var sag = best.SagVolts(problem);
        return (best, new(sag, Math.Min(bound, sag), arePlacesProven && sag <= bound + ResolutionVolts(bound), trials.Rounds));
    }

    /// <summary>Boats without a place count more than all moves together.</summary>
    double Mark(PlanCheck check) => (problem.Guests.Count - check.Plan.Berths.Count) * (problem.Guests.Count + 1.0) + check.Plan.Moved;

    (PlanCheck Best, bool IsProven) Places(PlanCheck best)
    {
        using var relaxation = new PlacementRelaxation(problem, trials.Rows, best.Plan, isForPlaces: true);
        var relaxed = trials.Relax(relaxation, ShareForPlaces);
        var reach = Reach.Few;
        for (var round = 0; relaxed != null && round < MostRounds && trials.IsTime(ShareForPlaces); round++)
        {
            var least = Math.Ceiling(relaxed.Value - 1e-6);
            progress?.Invoke(new PlacementProgress.Places(Refused(Mark(best)), Refused(least)));
            if (Mark(best) <= least)
                return (best, true);
            var model = trials.Model(trials.Columns(relaxed, reach, double.PositiveInfinity));
            model.Limit(double.PositiveInfinity);
            model.MinimizePlaces(least);
            model.Hint(best.Plan);
            var found = trials.Solve(model, Reach.All, ShareForPlaces);
            if (found.Plan is not null && trials.Verified(found.Plan) is { Broken.Count: > 0 } wrong)
            {
                trials.Correct(wrong);
                continue;
            }
            if (found.Plan is not null && trials.Verified(found.Plan) is var check && Mark(check) < Mark(best))
                best = check;
            if (reach == Reach.All)
                return (best, found.IsOver);
            reach = Reach.All;
        }
        return (best, false);
    }

    int Refused(double mark) => (int)(mark / (problem.Guests.Count + 1));

    (PlanCheck Best, double BoundVolts) Sag(PlanCheck best)
    {
        using var search = new SagSearch(trials, best, progress, ShareForSag);
        search.Run();
        return (search.Best, search.BoundVolts);
    }

    /// <summary>Wishes, and the other docks, with no more sag of the site than this.</summary>
    PlanCheck Rest(PlanCheck best, double mostSagVolts)
    {
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
            if (trials.Solve(model, Reach.Few, share).Plan is not { } plan)
                break;
            var check = trials.Verified(plan);
            if (check.Broken.Count == 0 && check.SagVolts(problem) <= mostSagVolts)
                return RestOf(check) < RestOf(best) ? check : best;
            trials.Correct(check);
        }
        return best;
    }

    double RestOf(PlanCheck check) =>
        check.Lowest.Values.Sum(lowest => problem.ReferenceVolts - lowest.Value)
        + 0.5 * check.Plan.Berths.Count(pair => pair.Key.Arrival.HasWish && !pair.Key.Wishes(pair.Value));
}
