namespace Farberth.Planning.Placement;

/// <summary>
/// One guest after the other, those with the least choice first, each where it makes the lowest volts fall least. Each step is put
/// through the full load flow, so that the plan may always be used; the solver begins from it.
/// </summary>
static class GreedyPlan
{
    public static Plan Of(PlacementProblem problem, Action<PlacementProgress>? progress = null)
    {
        var docks = problem.Docks.ToDictionary(dock => dock, dock => new LinearDock(problem, dock));
        var berths = new Dictionary<Guest, Berth>();
        // Those who may move stay where they are: nobody moves but for a reason.
        foreach (var guest in problem.Guests.Where(guest => guest.MovesFrom != null))
            Give(problem, docks, berths, guest, guest.Berths.First(berth => berth.Slip == guest.MovesFrom));
        List<Guest> arrivals = [.. problem.Guests.Where(guest => guest.MovesFrom == null)
            .OrderBy(guest => guest.Berths.Count).ThenByDescending(guest => guest.Amps.DefaultIfEmpty(0).Max())];
        for (var at = 0; at < arrivals.Count; at++)
        {
            progress?.Invoke(new PlacementProgress.FirstPlan(at, arrivals.Count));
            if (Best(problem, docks, berths, arrivals[at]) is { } berth)
                Give(problem, docks, berths, arrivals[at], berth);
        }
        return new(berths);
    }

    static Berth? Best(PlacementProblem problem, Dictionary<DockProblem, LinearDock> docks, Dictionary<Guest, Berth> berths, Guest guest)
    {
        var taken = Taken(berths, guest);
        var ranked = guest.Berths.Where(berth => !taken.Contains(berth.Slip))
            .Select(berth => (Berth: berth, Lowest: Lowest(problem, docks, guest, berth)))
            .OrderByDescending(ranked => ranked.Lowest.Volts).ToList();
        return ranked.FirstOrDefault(ranked => IsGood(problem, berths, guest, ranked.Berth, ranked.Lowest.Slot)).Berth;
    }

    /// <summary>Slips that are given away while a guest is there.</summary>
    public static HashSet<string> Taken(IReadOnlyDictionary<Guest, Berth> berths, Guest guest) =>
        [.. berths.Where(pair => pair.Key != guest && pair.Key.Arrival.Overlaps(guest.Arrival)).Select(pair => pair.Value.Slip)];

    static (double Volts, int Slot) Lowest(PlacementProblem problem, Dictionary<DockProblem, LinearDock> docks, Guest guest, Berth berth) =>
        problem.DockOf(berth) is not { } dock ? (double.PositiveInfinity, -1)
        : docks[dock].Broken(guest, dock.Effect(berth)) is { } broken ? (broken.Room, broken.Slot)
        : docks[dock].Lowest(guest, dock.Effect(berth));

    /// <summary>By the full load flow in the hour that the sensitivities find tightest.</summary>
    static bool IsGood(PlacementProblem problem, Dictionary<Guest, Berth> berths, Guest guest, Berth berth, int slot) =>
        slot < 0 || Check(problem, berths, guest, berth, slot).Broken.Count == 0;

    public static PlanCheck Check(
        PlacementProblem problem, IReadOnlyDictionary<Guest, Berth> berths, Guest guest, Berth berth, params IReadOnlyList<int> slots) =>
        PlanCheck.Of(problem, new(new Dictionary<Guest, Berth>(berths) { [guest] = berth }), slots, problem.DockOf(berth));

    static void Give(
        PlacementProblem problem, Dictionary<DockProblem, LinearDock> docks, Dictionary<Guest, Berth> berths, Guest guest, Berth berth)
    {
        berths.Add(guest, berth);
        if (problem.DockOf(berth) is { } dock)
            docks[dock].Take(guest, dock.Effect(berth));
    }
}
