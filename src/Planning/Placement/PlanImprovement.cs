namespace Farberth.Planning.Placement;

/// <summary>
/// Makes a plan better by moving guests one at a time, or two against each other, away from the dock where the volts are lowest, as the
/// sensitivities see them, until no such move helps. The solver then has little left to find and its time goes into the proof.
/// </summary>
sealed class PlanImprovement
{
    const int MostSteps = 400;

    /// <summary>A gain that is worth a step.</summary>
    const double LeastVolts = 0.005;

    readonly PlacementProblem problem;
    readonly Dictionary<DockProblem, LinearDock> docks;
    readonly Dictionary<Guest, Berth> berths;

    PlanImprovement(PlacementProblem problem, Plan plan)
    {
        (this.problem, berths) = (problem, new(plan.Berths));
        docks = problem.Docks.ToDictionary(dock => dock, dock => new LinearDock(problem, dock));
        foreach (var (guest, berth) in plan.Berths)
            Take(guest, berth);
    }

    public static Plan Of(PlacementProblem problem, Plan plan)
    {
        if (problem.Peaks.Count == 0)
            return plan;
        var better = new PlanImprovement(problem, plan);
        for (var step = 0; step < MostSteps && better.Step(); step++)
        {
        }
        return new(better.berths);
    }

    bool Step()
    {
        var worst = problem.Docks.MinBy(dock => docks[dock].Lowest().Volts)!;
        var (volts, limit, slot) = docks[worst].Lowest();
        var guilty = berths.Where(pair => pair.Key.MovesFrom is null && pair.Value.Dock == worst.Dock.Name && pair.Key.Amps[slot] * worst.Effect(pair.Value)[limit] < 0)
            .OrderBy(pair => pair.Key.Amps[slot] * worst.Effect(pair.Value)[limit]).Select(pair => pair.Key).ToList();
        return guilty.Exists(guest => Move(guest, volts)) || guilty.Exists(guest => Exchange(guest, volts));
    }

    /// <summary>To the free berth that is best for all, if that is better than now.</summary>
    bool Move(Guest guest, double volts)
    {
        var before = berths[guest];
        Leave(guest, before);
        var taken = GreedyPlan.Taken(berths, guest);
        var floor = docks[problem.DockOf(before)!].Lowest().Volts;
        var (best, bestVolts) = (before, volts + LeastVolts);
        foreach (var berth in guest.Berths.Where(berth => !taken.Contains(berth.Slip)))
            if (Math.Min(floor, With(guest, berth)) is var after && after > bestVolts)
                (best, bestVolts) = (berth, after);
        Take(guest, best);
        return best != before;
    }

    /// <summary>With the first other guest with whom that makes things better.</summary>
    bool Exchange(Guest guest, double volts)
    {
        var before = berths[guest];
        Leave(guest, before);
        foreach (var (other, its) in berths.Where(pair => pair.Key != guest && pair.Key.MovesFrom is null && pair.Value.Slip != before.Slip).ToList())
        {
            var forGuest = guest.Berths.Where(berth => berth.Slip == its.Slip && IsFree(its.Slip, guest, other)).ToList();
            var forOther = other.Berths.Where(berth => berth.Slip == before.Slip && IsFree(before.Slip, other, guest)).ToList();
            if (forGuest.Count == 0 || forOther.Count == 0)
                continue;
            Leave(other, its);
            var (there, here) = (forGuest.MaxBy(berth => With(guest, berth))!, forOther.MaxBy(berth => With(other, berth))!);
            var after = With(guest, there);
            Take(guest, there);
            after = Math.Min(after, Math.Min(With(other, here), docks[problem.DockOf(before)!].Lowest().Volts));
            if (after > volts + LeastVolts)
            {
                Take(other, here);
                return true;
            }
            Leave(guest, there);
            Take(other, its);
        }
        Take(guest, before);
        return false;
    }

    bool IsFree(string slip, Guest guest, Guest butFor) => !berths.Any(pair =>
        pair.Key != guest && pair.Key != butFor && pair.Value.Slip == slip && pair.Key.Arrival.Overlaps(guest.Arrival));

    /// <summary>The lowest volts of a berth's dock while a guest is there; −∞ where a limit would be passed.</summary>
    double With(Guest guest, Berth berth) => problem.DockOf(berth) is not { } dock ? double.PositiveInfinity
        : docks[dock].Broken(guest, dock.Effect(berth)) is null ? docks[dock].Lowest(guest, dock.Effect(berth)).Volts : double.NegativeInfinity;

    void Take(Guest guest, Berth berth)
    {
        berths[guest] = berth;
        if (problem.DockOf(berth) is { } dock)
            docks[dock].Take(guest, dock.Effect(berth));
    }

    void Leave(Guest guest, Berth berth)
    {
        if (problem.DockOf(berth) is { } dock)
            docks[dock].Leave(guest, dock.Effect(berth));
    }
}
