using System.Globalization;
using Google.OrTools.Sat;

namespace Farberth.Planning.Placement;

/// <summary>How good a plan is, and how sure that is.</summary>
/// <param name="SagVolts">Of the plan, by the full load flow.</param>
/// <param name="BoundVolts">No plan has less, as far as the sensitivities hold.</param>
/// <param name="IsProven">The solver found no better plan to be possible: neither in places nor, to a tenth of a volt, in sag.</param>
/// <param name="Rounds">How often a plan was put through the full load flow and its findings put back.</param>
public sealed record PlacementProof(double SagVolts, double BoundVolts, bool IsProven, int Rounds);

/// <summary>Places, then sag, then wishes; each plan is verified, and what the load flow does not confirm is cut off.</summary>
sealed class PlacementSearch(PlacementProblem problem, PlacementEffort effort, Action<PlacementProgress>? progress, CancellationToken stop)
{
    const int MostRounds = 12;

    /// <summary>Of the time, what places and wishes may take at most; the latter are seldom proven, and not waited for.</summary>
    const double ShareForPlaces = 0.3, ShareForWishes = 0.2;

    readonly PlacementModel model = new(problem);
    double spentSeconds;
    int rounds;

    /// <param name="start">A plan that may be used.</param>
    public (PlanCheck Check, PlacementProof Proof) Run(PlanCheck start)
    {
        var arePlacesProven = true;
        if (start.Plan.Berths.Count < problem.Guests.Count(guest => guest.Berths.Count > 0) || start.Plan.Moved > 0)
        {
            model.MinimizePlaces();
            (start, _, arePlacesProven) = Stage("places", start, Places, ShareForPlaces);
        }
        model.MinimizeSag(start.Plan);
        var (best, bound, isProven) = Stage("sag", start, Sag, 1 - ShareForWishes);
        // w tenths are the least into which a sag fits: what fits into one tenth less is excluded, and no more.
        bound = Math.Max(0, bound - PlacementModel.ResolutionVolts);
        var sag = best.SagVolts(problem);
        model.MinimizeRest(sag);
        (best, _, _) = Stage("wishes", best, check => check.SagVolts(problem) <= sag + PlacementModel.ResolutionVolts / 2 ? Rest(check) : double.PositiveInfinity, Math.Min(1, spentSeconds / effort.Limit.TotalSeconds + ShareForWishes));
        return (best, new(best.SagVolts(problem), Math.Min(bound, best.SagVolts(problem)), isProven && arePlacesProven, rounds));
    }

    double Places(PlanCheck check) => problem.Guests.Count - check.Plan.Berths.Count + check.Plan.Moved / (problem.Guests.Count + 1.0);

    double Sag(PlanCheck check) => check.SagVolts(problem);

    double Rest(PlanCheck check) =>
        check.Lowest.Values.Sum(lowest => problem.ReferenceVolts - lowest.Value)
        + 0.5 * check.Plan.Berths.Count(pair => pair.Key.Arrival.HasWish && !pair.Key.Wishes(pair.Value));

    (PlanCheck Best, double Bound, bool IsProven) Stage(string stage, PlanCheck best, Func<PlanCheck, double> measure, double share)
    {
        var (bound, untilSeconds) = (0.0, effort.Limit.TotalSeconds * share);
        Plan? last = null;
        for (var round = 0; round < MostRounds && spentSeconds < untilSeconds && !stop.IsCancellationRequested; round++)
        {
            model.Hint(best);
            var (status, objective, lower, plan) = Solve(stage, untilSeconds - spentSeconds);
            bound = Math.Max(bound, lower);
            if (plan is null)
                return (best, bound, false);
            rounds++;
            var check = PlanCheck.Of(problem, plan);
            if (check.Broken.Count == 0 && measure(check) < measure(best) - 1e-9)
                best = check;
            // What is confirmed to the resolution of the model is as good as the model says.
            if (check.Broken.Count == 0 && measure(check) <= objective + PlacementModel.ResolutionVolts / 2)
                return (best, bound, status == CpSolverStatus.Optimal);
            if (last != null && Same(last, plan))
                model.Forbid(plan);
            model.Correct(check);
            last = plan;
        }
        return (best, bound, measure(best) <= bound + PlacementModel.ResolutionVolts / 2);
    }

    (CpSolverStatus Status, double Objective, double Bound, Plan? Plan) Solve(string stage, double seconds)
    {
        using var solver = new CpSolver();
        // Probing and symmetry cost more here than they bring: 4 s of a search of 10 s on 200 slips.
        solver.StringParameters = string.Create(
            CultureInfo.InvariantCulture, $"max_time_in_seconds:{seconds:0.###},num_workers:{effort.Workers},random_seed:1,cp_model_probing_level:0,symmetry_level:0,find_big_linear_overlap:false,catch_sigint_signal:false");
        using var callback = new SolutionCallback(solution => progress?.Invoke(new(stage, solution.ObjectiveValue() / model.Unit, solution.BestObjectiveBound() / model.Unit)));
        using var stopping = stop.Register(solver.StopSearch);
        var status = model.Solve(solver, callback);
        spentSeconds += solver.WallTime();
        var isFound = status is CpSolverStatus.Optimal or CpSolverStatus.Feasible;
        return (status, isFound ? solver.ObjectiveValue / model.Unit : double.NaN, solver.BestObjectiveBound / model.Unit, isFound ? model.Read(solver) : null);
    }

    static bool Same(Plan one, Plan other) =>
        one.Berths.Count == other.Berths.Count && one.Berths.All(pair => other.Berths.TryGetValue(pair.Key, out var berth) && berth == pair.Value);
}

/// <summary>Tells of each better plan that the solver finds.</summary>
sealed class SolutionCallback(Action<CpSolverSolutionCallback> found) : CpSolverSolutionCallback
{
    public override void OnSolutionCallback() => found(this);
}
