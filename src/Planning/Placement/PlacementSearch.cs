namespace Farberth.Planning.Placement;

// Places first; then sag. The relaxation's z is a first bound b; plans with w ≤ v = b + 0.05 V are looked for, at first with the boats that the
// relaxation lays whole into a berth left there. Where there is none v goes up, where there is one it goes halfway down again. Then the same among a
// few berths of each boat that the relaxation finds cheap, and at last among all whose reduced cost leaves them possible, which decides:
//
//     there is none               b := v, proven, and again
//     there is one, and the load flow confirms w ≤ b + 0.1 V     the best there is, to a tenth of a volt
//     there is one that it does not confirm     its rows are taken anew at that plan, z with them, and again
//     no answer in time           v is left undecided and goes up
//
// A tenth of a volt is less than any forecast knows; to look for a plan is far quicker than to let a solver push an objective down by itself. Wishes
// and the other docks come last.

/// <summary>How good a plan is, and how sure that is.</summary>
/// <param name="SagVolts">Of the plan, by the full load flow.</param>
/// <param name="BoundVolts">No plan has less, as far as the sensitivities hold.</param>
/// <param name="IsProven">No plan has more places or fewer moves, and none has a tenth of a volt less sag.</param>
/// <param name="Rounds">How often a plan was put through the full load flow.</param>
public sealed record PlacementProof(double SagVolts, double BoundVolts, bool IsProven, int Rounds);

/// <summary>Places, then sag, then wishes; each plan is verified, and what the load flow does not confirm is cut off.</summary>
sealed class PlacementSearch(PlacementProblem problem, PlacementEffort effort, Action<PlacementProgress>? progress, CancellationToken stop)
{
    public const double ResolutionVolts = 0.1;

    const int MostRounds = 100;

    /// <summary>Of the time, what places and wishes may take at most; the latter are seldom proven, and not waited for.</summary>
    const double ShareForPlaces = 0.3, ShareForWishes = 0.2;

    /// <summary>Of each guest at each dock.</summary>
    const int FewBerths = 8;

    readonly PlacementRows rows = new(problem);
    readonly List<Plan> forbidden = [];
    double spentSeconds;
    int rounds;

    /// <param name="start">A plan that may be used.</param>
    public (PlanCheck Check, PlacementProof Proof) Run(PlanCheck start)
    {
        var (best, arePlacesProven) = Mark(start) > 0 ? Places(start) : (start, true);
        (best, var bound) = Sag(best);
        best = Rest(best, Math.Max(best.SagVolts(problem), bound + ResolutionVolts));
        var sag = best.SagVolts(problem);
        return (best, new(sag, Math.Min(bound, sag), arePlacesProven && sag <= bound + ResolutionVolts, rounds));
    }

    /// <summary>Boats without a place count more than all moves together.</summary>
    double Mark(PlanCheck check) => (problem.Guests.Count - check.Plan.Berths.Count) * (problem.Guests.Count + 1.0) + check.Plan.Moved;

    (PlanCheck Best, bool IsProven) Places(PlanCheck best)
    {
        using var relaxation = new PlacementRelaxation(problem, rows, best.Plan, isForPlaces: true);
        var until = effort.Limit.TotalSeconds * ShareForPlaces;
        var relaxed = Relax(relaxation, until);
        var reach = Reach.Few;
        for (var round = 0; relaxed != null && round < MostRounds && IsTime(until); round++)
        {
            var least = Math.Ceiling(relaxed.Value - 1e-6);
            progress?.Invoke(new PlacementProgress.Places(Refused(Mark(best)), Refused(least)));
            if (Mark(best) <= least)
                return (best, true);
            var model = Model(Columns(relaxed, reach, double.PositiveInfinity), double.PositiveInfinity);
            model.MinimizePlaces(least);
            model.Hint(best.Plan);
            var found = Solve(model, Reach.All, until);
            if (found.Plan is not null && Verified(found.Plan) is { Broken.Count: > 0 } wrong)
            {
                Correct(wrong);
                continue;
            }
            if (found.Plan is not null && Verified(found.Plan) is var check && Mark(check) < Mark(best))
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
        using var relaxation = new PlacementRelaxation(problem, rows, best.Plan, isForPlaces: false);
        var until = effort.Limit.TotalSeconds * (1 - ShareForWishes);
        var relaxed = Relax(relaxation, until);
        var (ladder, bound) = (new AimLadder(), relaxed?.Value ?? 0);
        for (var round = 0; relaxed != null && round < MostRounds && IsTime(until); round++)
        {
            bound = Math.Max(bound, relaxed.Value);
            var sag = best.SagVolts(problem);
            progress?.Invoke(new PlacementProgress.Sag(sag, bound));
            if (sag <= bound + ResolutionVolts || ladder.Next(bound, sag) is not { } aim)
                break;
            var model = Model(Columns(relaxed, ladder.Reach, aim - relaxed.Value), aim);
            model.Keep(best.Plan);
            var found = Solve(model, ladder.Reach, until);
            if (found.Plan is null)
            {
                bound = ladder.Reach == Reach.All && found.IsOver ? aim : bound;
                ladder.Fail(aim);
                continue;
            }
            var check = Verified(found.Plan);
            if (check.Broken.Count == 0 && check.SagVolts(problem) < sag)
                best = check;
            if (check.Broken.Count > 0 || check.SagVolts(problem) > aim + ResolutionVolts / 2)
            {
                Correct(check);
                relaxed = Relax(relaxation, until) ?? relaxed;
            }
        }
        return (best, bound);
    }

    /// <summary>Wishes, and the other docks, with no more sag of the site than this.</summary>
    PlanCheck Rest(PlanCheck best, double mostSagVolts)
    {
        using var relaxation = new PlacementRelaxation(problem, rows, best.Plan, isForPlaces: false);
        var until = Math.Min(effort.Limit.TotalSeconds, spentSeconds + ShareForWishes * effort.Limit.TotalSeconds);
        var relaxed = Relax(relaxation, until);
        for (var round = 0; relaxed != null && round < MostRounds && IsTime(until); round++)
        {
            progress?.Invoke(new PlacementProgress.Rest());
            var narrow = Columns(relaxed, Reach.Few, double.PositiveInfinity);
            var model = Model([.. narrow.Union(rows.Choices.Where(choice => IsOf(best.Plan, choice)))], mostSagVolts);
            model.Keep(best.Plan);
            model.MinimizeRest();
            model.Hint(best.Plan);
            if (Solve(model, Reach.All, until).Plan is not { } plan)
                break;
            var check = Verified(plan);
            if (check.Broken.Count == 0 && check.SagVolts(problem) <= mostSagVolts)
                return RestOf(check) < RestOf(best) ? check : best;
            Correct(check);
        }
        return best;
    }

    double RestOf(PlanCheck check) =>
        check.Lowest.Values.Sum(lowest => problem.ReferenceVolts - lowest.Value)
        + 0.5 * check.Plan.Berths.Count(pair => pair.Key.Arrival.HasWish && !pair.Key.Wishes(pair.Value));

    static bool IsOf(Plan plan, Choice choice) => plan.Berths.TryGetValue(choice.Guest, out var berth) && berth.Equals(choice.Berth);

    /// <summary>Of each guest at each dock the cheapest berths, those first that the relaxation takes a share of.</summary>
    /// <param name="spare">Berths of a greater reduced cost are not possible.</param>
    List<Choice> Columns(Relaxed relaxed, Reach reach, double spare)
    {
        bool IsWhole(Choice choice) => relaxed.Shares[choice.At] > 1 - 1e-6;
        var settled = reach == Reach.Rest ? rows.Choices.Where(IsWhole).Select(choice => choice.Guest).ToHashSet() : [];
        return
        [
            .. rows.Choices.Where(choice => settled.Contains(choice.Guest) ? IsWhole(choice)
                    : relaxed.Costs[choice.At] <= spare + 1e-6 || relaxed.Shares[choice.At] > 0)
                .GroupBy(choice => (choice.Guest, choice.Dock)).SelectMany(own => own
                    .OrderByDescending(choice => relaxed.Shares[choice.At] > 1e-6 || choice.Guest.MovesFrom == choice.Berth.Slip)
                    .ThenBy(choice => Math.Round(relaxed.Costs[choice.At], 3)).ThenBy(rows.Load).Take(reach == Reach.All ? int.MaxValue : FewBerths)),
        ];
    }

    PlacementModel Model(IReadOnlyList<Choice> columns, double mostSagVolts)
    {
        var model = new PlacementModel(problem, rows, columns, mostSagVolts);
        forbidden.ForEach(model.Forbid);
        return model;
    }

    bool IsTime(double until) => spentSeconds < until && !stop.IsCancellationRequested;

    Relaxed? Relax(PlacementRelaxation relaxation, double until)
    {
        var before = relaxation.SpentSeconds;
        var relaxed = relaxation.Solve(until - spentSeconds, stop);
        spentSeconds += relaxation.SpentSeconds - before;
        return relaxed;
    }

    /// <summary>Of the time that is left, what one search may take: among few berths a plan is there soon or mostly not at all.</summary>
    static double ShareForOne(Reach reach) => reach switch
    {
        Reach.Rest => 0.04,
        Reach.Few => 0.1,
        _ => 0.25,
    };

    Searched Solve(PlacementModel model, Reach reach, double until)
    {
        var found = model.Solve(Math.Max(0.5, ShareForOne(reach) * (until - spentSeconds)), effort.Workers, stop);
        spentSeconds += found.WallSeconds;
        return found;
    }

    PlanCheck Verified(Plan plan)
    {
        rounds++;
        return PlanCheck.Of(problem, plan);
    }

    /// <summary>The plan as such is out too, should rounding let it through its new rows.</summary>
    void Correct(PlanCheck check)
    {
        rows.Correct(check);
        forbidden.Add(check.Plan);
    }
}
