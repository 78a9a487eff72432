namespace Farberth.Planning.Placement;

/// <summary>
/// Makes a plan better by moving guests one at a time, two against each other, or one into the slip of another, while that lowers Σ e^(β·sag) over docks and hours: first
/// with a small β, which sees every hour, then with larger ones, which see the worst alone. By the sensitivities; the solver then has little
/// left to find and its time goes into the proof.
/// </summary>
sealed class PlanImprovement
{
    /// <summary>β, 1/V.</summary>
    static readonly IReadOnlyList<double> Sharpnesses = [1, 2, 4, 8, 16];

    const int MostPasses = 30;

    /// <summary>Those who add most may push another out of its slip.</summary>
    const int MostWhoDisplace = 12;

    /// <summary>A pass that gains less of the sum is the last with its β.</summary>
    const double LeastGainShare = 1e-4;

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

    public static Plan Of(PlacementProblem problem, Plan plan, CancellationToken stop)
    {
        var better = new PlanImprovement(problem, plan);
        var guests = plan.Berths.Where(pair => pair.Key.MovesFrom is null && pair.Value.Dock != null).Select(pair => pair.Key).ToList();
        foreach (var sharpness in Sharpnesses)
            for (var pass = 0; pass < MostPasses && !stop.IsCancellationRequested && better.Pass(guests, sharpness) | better.Watches(); pass++)
            {
            }
        return new(better.berths);
    }

    /// <summary>Some dock is now lowest where nobody looked.</summary>
    bool Watches() => docks.Values.Aggregate(false, (any, dock) => dock.WatchLowest() | any);

    bool Pass(List<Guest> guests, double sharpness)
    {
        var moved = guests.Count(guest => Move(guest, sharpness));
        if (moved > 0)
            return true;
        for (var at = 0; at < guests.Count; at++)
            for (var other = at + 1; other < guests.Count; other++)
                moved += Exchange(guests[at], guests[other], sharpness) ? 1 : 0;
        if (moved > 0)
            return true;
        foreach (var guest in guests.OrderByDescending(guest => Weight(guest, sharpness)).Take(MostWhoDisplace).ToList())
            moved += Displace(guest, guests, sharpness) ? 1 : 0;
        return moved > 0;
    }

    /// <summary>What the guest adds where it lies.</summary>
    double Weight(Guest guest, double sharpness)
    {
        Leave(guest, berths[guest]);
        var weight = Added(guest, berths[guest], sharpness);
        Take(guest, berths[guest]);
        return weight;
    }

    /// <summary>Into the slip of another, who goes to the free berth that adds least.</summary>
    bool Displace(Guest guest, List<Guest> guests, double sharpness)
    {
        foreach (var other in guests.Where(other => other != guest && other.Arrival.Overlaps(guest.Arrival) && berths[other].Slip != berths[guest].Slip))
        {
            var (first, second) = (berths[guest], berths[other]);
            var ways = Ways(guest, second.Slip, other);
            if (ways.Count == 0)
                continue;
            Leave(guest, first);
            Leave(other, second);
            var before = Added(other, second, sharpness);
            Take(other, second);
            before += Added(guest, first, sharpness);
            Leave(other, second);
            var there = ways.MinBy(berth => Added(guest, berth, sharpness))!;
            var after = Added(guest, there, sharpness);
            var carries = Carries(guest, there);
            Take(guest, there);
            var taken = GreedyPlan.Taken(berths, other);
            var elsewhere = other.Berths.Where(berth => berth.Dock != null && !taken.Contains(berth.Slip)).MinBy(berth => Added(other, berth, sharpness));
            if (carries && elsewhere != null && after + Added(other, elsewhere, sharpness) < before - LeastGainShare * Math.Abs(before) && Carries(other, elsewhere))
            {
                Take(other, elsewhere);
                return true;
            }
            Leave(guest, there);
            Take(other, second);
            Take(guest, first);
        }
        return false;
    }

    /// <summary>To the free berth that adds least.</summary>
    bool Move(Guest guest, double sharpness)
    {
        var before = berths[guest];
        Leave(guest, before);
        var taken = GreedyPlan.Taken(berths, guest);
        var now = Added(guest, before, sharpness);
        var better = guest.Berths.Where(berth => berth.Dock != null && !taken.Contains(berth.Slip))
            .Select(berth => (Berth: berth, Adds: Added(guest, berth, sharpness))).Where(found => found.Adds < now - LeastGainShare * Math.Abs(now))
            .OrderBy(found => found.Adds).Select(found => found.Berth).FirstOrDefault(berth => Carries(guest, berth));
        Take(guest, better ?? before);
        return better != null;
    }

    /// <summary>Each to the other's slip.</summary>
    bool Exchange(Guest one, Guest two, double sharpness)
    {
        var (first, second) = (berths[one], berths[two]);
        if (first.Slip == second.Slip || !one.Arrival.Overlaps(two.Arrival))
            return false;
        var (forOne, forTwo) = (Ways(one, second.Slip, two), Ways(two, first.Slip, one));
        if (forOne.Count == 0 || forTwo.Count == 0)
            return false;
        Leave(two, second);
        Leave(one, first);
        var before = Added(one, first, sharpness);
        Take(one, first);
        before += Added(two, second, sharpness);
        Leave(one, first);
        var there = forOne.MinBy(berth => Added(one, berth, sharpness))!;
        var after = Added(one, there, sharpness);
        var carries = Carries(one, there);
        Take(one, there);
        var here = forTwo.MinBy(berth => Added(two, berth, sharpness))!;
        after += Added(two, here, sharpness);
        if (carries && after < before - LeastGainShare * Math.Abs(before) && Carries(two, here))
        {
            Take(two, here);
            return true;
        }
        Leave(one, there);
        Take(one, first);
        Take(two, second);
        return false;
    }

    List<Berth> Ways(Guest guest, string slip, Guest butFor) => berths.Any(pair =>
        pair.Key != guest && pair.Key != butFor && pair.Value.Slip == slip && pair.Key.Arrival.Overlaps(guest.Arrival))
        ? [] : [.. guest.Berths.Where(berth => berth.Slip == slip && berth.Dock != null)];

    double Added(Guest guest, Berth berth, double sharpness) =>
        problem.DockOf(berth) is { } dock ? docks[dock].Added(guest, dock.Effect(berth), sharpness) : 0;

    bool Carries(Guest guest, Berth berth) => problem.DockOf(berth) is not { } dock || docks[dock].Broken(guest, dock.Effect(berth)) is null;

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
