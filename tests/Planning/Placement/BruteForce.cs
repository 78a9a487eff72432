using Farberth.Planning.Placement;

namespace Farberth.Planning.Tests.Placement;

/// <summary>Every plan of a small problem through the full load flow: what the planner is held against.</summary>
static class BruteForce
{
    /// <summary>The most boats, and the least sag with so many.</summary>
    public static (int Placed, double SagVolts) Best(PlacementProblem problem)
    {
        var best = (Placed: -1, Sag: double.PositiveInfinity);
        foreach (var plan in Plans(problem, 0, []))
        {
            if (plan.Count < best.Placed)
                continue;
            var check = PlanCheck.Of(problem, new(plan));
            if (check.Broken.Count == 0 && (plan.Count > best.Placed || check.SagVolts(problem) < best.Sag))
                best = (plan.Count, check.SagVolts(problem));
        }
        return best;
    }

    static IEnumerable<Dictionary<Guest, Berth>> Plans(PlacementProblem problem, int at, Dictionary<Guest, Berth> so)
    {
        if (at == problem.Guests.Count)
            return [so];
        var guest = problem.Guests[at];
        var taken = GreedyPlan.Taken(so, guest);
        return Plans(problem, at + 1, so).Concat(guest.Berths.Where(berth => !taken.Contains(berth.Slip))
            .SelectMany(berth => Plans(problem, at + 1, new(so) { [guest] = berth })));
    }
}
