using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Loads;

namespace Farberth.Planning.Placement;

/// <summary>Finds slips for boats. It advises the harbormaster; it sees what the site file and the list say, and no more.</summary>
public static class Planner
{
    /// <summary>Berths for every arrival.</summary>
    /// <param name="known">What the outlets of an occupied slip will draw in an hour, from their past; null where nothing is known.</param>
    /// <param name="progress">Told as it goes.</param>
    /// <param name="stop">The best plan so far is then given.</param>
    public static PlacementAnswer Place(
        SiteDefinition site, ArrivalList list, PlacementEffort effort, Func<string, HourSlot, IReadOnlyList<Draw>?>? known = null,
        Action<PlacementProgress>? progress = null, CancellationToken stop = default)
    {
        var problem = new PlacementProblem(site, list, known);
        var start = Usable(problem, PlanCheck.Of(problem, GreedyPlan.Of(problem, progress)));
        var (check, proof) = new PlacementSearch(problem, effort, progress, stop).Run(start);
        check = WithLeftovers(problem, check);
        progress?.Invoke(new PlacementProgress.Words());
        return new Explained(problem, check).Answer(proof);
    }

    /// <summary>Every slip that has the size and the plugs for one boat, beside those who are present; the best first.</summary>
    public static IReadOnlyList<RankedBerth> Rank(
        SiteDefinition site, ArrivalList list, Arrival arrival, Func<string, HourSlot, IReadOnlyList<Draw>?>? known = null)
    {
        var stays = list.Present.Select(stay => stay with { MayMove = false });
        var problem = new PlacementProblem(site, new(arrival.From, [arrival], [.. stays], list.Outdoor), known);
        return new BerthRanking(problem, new(new Dictionary<Guest, Berth>())).Of(problem.Guests[0]);
    }

    /// <summary>A guest that breaks a limit in an hour that was not looked at goes again, the one that draws most first.</summary>
    internal static PlanCheck Usable(PlacementProblem problem, PlanCheck check)
    {
        while (check.Broken.Count > 0)
        {
            var at = check.Broken.MinBy(limit => limit.Room)!;
            var heaviest = check.Plan.On(at.Dock).Where(pair => pair.Guest.MovesFrom == null && pair.Guest.Amps[at.Slot] > 0)
                .OrderByDescending(pair => pair.Guest.Amps[at.Slot]).Select(pair => pair.Guest).FirstOrDefault();
            if (heaviest is null)
                break; // those who are there already break it
            check = PlanCheck.Of(problem, new(check.Plan.Berths.Where(pair => pair.Key != heaviest).ToDictionary()));
        }
        return check;
    }

    /// <summary>Nobody is refused for whom there is a slip as things stand, however the search ended.</summary>
    static PlanCheck WithLeftovers(PlacementProblem problem, PlanCheck check)
    {
        foreach (var guest in problem.Guests.Where(guest => !check.Plan.Berths.ContainsKey(guest)))
        {
            var better = new BerthRanking(problem, check.Plan).Of(guest).FirstOrDefault(ranked => ranked.IsGood) is { } free
                ? PlanCheck.Of(problem, new(new Dictionary<Guest, Berth>(check.Plan.Berths) { [guest] = free.Berth })) : null;
            if (better?.Broken.Count == 0)
                check = better;
        }
        return check;
    }
}
