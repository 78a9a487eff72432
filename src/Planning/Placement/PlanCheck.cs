using Farberth.Planning.Flow;

namespace Farberth.Planning.Placement;

/// <summary>Who lies where; a guest that is not in it is refused.</summary>
sealed record Plan(IReadOnlyDictionary<Guest, Berth> Berths)
{
    public IEnumerable<(Guest Guest, Berth Berth)> On(DockProblem dock) =>
        from pair in Berths where pair.Value.Dock == dock.Dock.Name select (pair.Key, pair.Value);

    public bool Takes(Choice choice) => Berths.TryGetValue(choice.Guest, out var berth) && berth.Equals(choice.Berth);

    public int Moved => Berths.Count(pair => pair.Key.MovesFrom != null && pair.Value.Slip != pair.Key.MovesFrom);
}

/// <summary>One limit of one dock in one hour, as the full load flow has it under a plan.</summary>
/// <param name="Limit">Its place among the case's limits.</param>
sealed record CheckedLimit(DockProblem Dock, int Slot, int Limit, double Value)
{
    public DockLimit What => Dock.Case.Limits[Limit];

    /// <summary>Below 0 where the plan breaks the limit.</summary>
    public double Room => Dock.Room(Slot, Limit, Value);
}

/// <summary>A plan put through the full load flow, hour by hour.</summary>
/// <param name="Lowest">Of each dock: where its volts are lowest, and when; null for one without hours.</param>
/// <param name="Broken">Limits that the plan breaks, the worst of each dock and kind; empty: it may be used.</param>
sealed record PlanCheck(Plan Plan, IReadOnlyDictionary<DockProblem, CheckedLimit> Lowest, IReadOnlyList<CheckedLimit> Broken)
{
    /// <summary>No meter and no forecast sees less; what those who lie there do already is given so much room.</summary>
    public const double HairVolts = 0.05, HairShare = 0.0005;

    /// <summary>Below the highest no-load volts of the site, V, of the docks that count: what a plan is judged by.</summary>
    public double SagVolts(PlacementProblem problem) => Lowest.Values.Where(lowest => problem.IsJudged(lowest.Dock)).Select(lowest => problem.ReferenceVolts - lowest.Value).DefaultIfEmpty(0).Max();

    /// <param name="slots">Hours to look at; null: all.</param>
    /// <param name="only">The dock to look at; null: all.</param>
    public static PlanCheck Of(PlacementProblem problem, Plan plan, IReadOnlyList<int>? slots = null, DockProblem? only = null)
    {
        var lowest = new Dictionary<DockProblem, CheckedLimit>();
        var broken = new List<CheckedLimit>();
        foreach (var dock in problem.Docks.Where(dock => only == null || dock == only))
        {
            var guests = plan.On(dock).ToList();
            var worst = new Dictionary<LimitKind, CheckedLimit>();
            foreach (var slot in slots ?? [.. Enumerable.Range(0, problem.Slots.Count)])
                Look(dock, slot, guests, lowest, worst);
            broken.AddRange(worst.Values.Where(limit => limit.Room < 0));
        }
        return new(plan, lowest, broken);
    }

    static void Look(
        DockProblem dock, int slot, List<(Guest Guest, Berth Berth)> guests,
        Dictionary<DockProblem, CheckedLimit> lowest, Dictionary<LimitKind, CheckedLimit> worst)
    {
        var isAlone = guests.TrueForAll(pair => pair.Guest.Amps[slot] == 0);
        var flow = isAlone ? dock.FixedFlow(slot) : dock.Flow(slot, guests);
        for (var at = 0; at < flow.Values.Count; at++)
        {
            var (kind, value) = (dock.Case.Limits[at].Kind, flow.Values[at]);
            if (kind == LimitKind.Volts && (!lowest.TryGetValue(dock, out var low) || value < low.Value))
                lowest[dock] = new(dock, slot, at, value);
            if (isAlone)
                continue;
            // Loads that cannot be carried at all leave no volts to speak of.
            if (!flow.Result.Converged)
                value = kind == LimitKind.Volts ? 0 : double.MaxValue;
            if (!worst.TryGetValue(kind, out var bad) || dock.Room(slot, at, value) < bad.Room)
                worst[kind] = new(dock, slot, at, value);
        }
    }
}
