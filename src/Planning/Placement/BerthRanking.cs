using Farberth.Monitoring.Words;
using Farberth.Planning.Flow;

namespace Farberth.Planning.Placement;

/// <summary>The berths of one guest beside all others of a plan: by the sensitivities in every hour, by the full load flow in the tightest.</summary>
sealed class BerthRanking
{
    readonly PlacementProblem problem;
    readonly Plan plan;
    readonly Dictionary<DockProblem, LinearDock> docks;

    public BerthRanking(PlacementProblem problem, Plan plan)
    {
        (this.problem, this.plan) = (problem, plan);
        docks = problem.Docks.ToDictionary(dock => dock, dock => new LinearDock(problem, dock));
        foreach (var (guest, berth) in plan.Berths)
            if (problem.DockOf(berth) is { } dock)
                docks[dock].Take(guest, dock.Effect(berth));
    }

    /// <summary>Good ones first, then by the lowest volts.</summary>
    public IReadOnlyList<RankedBerth> Of(Guest guest)
    {
        var own = plan.Berths.GetValueOrDefault(guest);
        if (own is not null && problem.DockOf(own) is { } dock)
            docks[dock].Leave(guest, dock.Effect(own));
        var taken = GreedyPlan.Taken(plan.Berths, guest);
        var alike = new Dictionary<string, RankedBerth>(); // berths on the same legs of the same pedestals are electrically one
        IReadOnlyList<RankedBerth> ranked =
        [
            .. guest.Berths.Where(berth => !taken.Contains(berth.Slip)).Select(berth => Rank(guest, berth, alike))
                .OrderByDescending(berth => berth.IsGood).ThenByDescending(berth => guest.Wishes(berth.Berth)).ThenByDescending(berth => berth.LowestVolts),
        ];
        if (own is not null && problem.DockOf(own) is { } back)
            docks[back].Take(guest, back.Effect(own));
        return ranked;
    }

    RankedBerth Rank(Guest guest, Berth berth, Dictionary<string, RankedBerth> alike)
    {
        var key = string.Join(' ', berth.Outlets.Select(outlet => outlet.Connection));
        if (!alike.TryGetValue(key, out var known))
            alike[key] = known = Rank(guest, berth);
        return known with { Berth = berth };
    }

    RankedBerth Rank(Guest guest, Berth berth)
    {
        if (problem.DockOf(berth) is not { } dock)
            return new(berth, double.PositiveInfinity, "", null, null);
        var effect = dock.Effect(berth);
        var tightest = docks[dock].Broken(guest, effect);
        var slot = docks[dock].Lowest(guest, effect).Slot;
        int[] slots = tightest is null || tightest.Slot == slot ? [slot] : [slot, tightest.Slot];
        var check = GreedyPlan.Check(problem, plan.Berths, guest, berth, slots);
        var (lowest, broken) = (check.Lowest[dock], check.Broken.MinBy(limit => limit.Room));
        return new(
            berth, lowest.Value, $"{lowest.What.Place} {lowest.What.Leg}", problem.Moment(problem.Slots[lowest.Slot].Start),
            broken is null ? null : Sentence.Of("{0} at {1}", LimitWords.WouldBe(broken.What, broken.Value), problem.Moment(problem.Slots[broken.Slot].Start)));
    }
}
