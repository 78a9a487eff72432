using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Loads;

namespace Farberth.Planning.Placement;

/// <summary>Finds slips for boats. It advises the harbormaster; it sees what the site file and the list say, and no more.</summary>
public static class Planner
{
    /// <summary>A slip that draws less is taken to be empty: meters show some tenths of an ampere of nothing (assumed).</summary>
    const double LeastStrangerAmps = 0.5;

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
        var (check, proof) = new PlacementSearch(problem, effort, start, progress, stop).Run();
        check = WithLeftovers(problem, check);
        progress?.Invoke(new PlacementProgress.Words());
        return new Explained(problem, check).Answer(proof);
    }

    /// <summary>Every slip for one boat beside those who are present, who stay where they are; the best first.</summary>
    /// <param name="known">As in <see cref="Place"/>.</param>
    public static SlipOffers Rank(
        SiteDefinition site, ArrivalList list, Arrival arrival, Func<string, HourSlot, IReadOnlyList<Draw>?>? known = null)
    {
        var stays = list.Present.Select(stay => stay with { MayMove = false });
        var problem = new PlacementProblem(site, new(arrival.From, [arrival], [.. stays], list.Outdoor), known);
        return SlipOffers.Of(problem, new Dictionary<string, double>());
    }

    /// <summary>The same by what meters say now: for a console, with nothing stated but who lies where.</summary>
    /// <param name="present">Who lies where, and until when; the boats may be without cords where nothing else is known of them.</param>
    /// <param name="measured">
    /// What outlets draw, as the highest of the last day rather than of this moment: it is counted in every hour of the stay. An outlet that is not
    /// in it counts as such boats are expected to draw. A slip that draws with nobody in it is not offered.
    /// </param>
    public static SlipOffers Rank(
        SiteDefinition site, IReadOnlyList<Stay> present, IReadOnlyList<Draw> measured, Arrival arrival, Outdoor outdoor)
    {
        var bySlip = measured.Where(draw => draw.Outlet.Slip != null).ToLookup(draw => draw.Outlet.Slip!);
        var stays = present.Select(stay => stay with { MayMove = false }).ToList();
        var strangers = bySlip.Where(slip => slip.Sum(draw => draw.Amps) >= LeastStrangerAmps && stays.TrueForAll(stay => stay.Slip != slip.Key))
            .ToDictionary(slip => slip.Key, slip => slip.Sum(draw => draw.Amps));
        stays.AddRange(strangers.Keys.Select(slip => new Stay(slip, new("somebody", 0, 0, 0, [], 0), arrival.Until, false)));
        var problem = new PlacementProblem(site, new(arrival.From, [arrival], stays, outdoor), (slip, _) => bySlip.Contains(slip) ? [.. bySlip[slip]] : null);
        return SlipOffers.Of(problem, strangers);
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
