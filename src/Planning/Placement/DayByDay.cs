namespace Farberth.Planning.Placement;

// The relaxation is weakest on a day with few guests: half a boat on either leg is what it would like best, and there is no half boat. But few
// guests are a small integer program. A plan of the whole time keeps the rows of each of its days, so that the least w among the guests S and the
// rows of one day alone bounds every plan from below.
//
// What a plan x̄ of that day costs the others the relaxation says: with S settled as x̄ has them its value is z̄ and, with d the reduced costs,
//
//     w  ≥  z̄ + Σ_{g∈S} d_gb·(x_gb − x̄_gb)
//
// for every plan, by duality (Benders' cut). The day is solved again with these rows, until its w is the z̄ of one of its plans. The first day that
// is settled is the one whose own w is greatest: what it comes to bounds every plan. Then the day with the fewest guests that are still open, and so
// on: each time there are more whole boats in the relaxation, which has the days to come in view all along.

/// <summary>w ≥ Volts + Σ value·x.</summary>
sealed record SagCut(double Volts, IReadOnlyList<(Choice Choice, double Value)> Terms);

/// <summary>Settles the boats of one day after the other, so that the relaxation of the rest stays good.</summary>
sealed class DayByDay(PlacementTrials trials, PlacementRelaxation relaxation, Plan known, double share)
{
    /// <summary>With more guests the relaxation is tight and the program no longer small (measured on invented marinas): of a day by itself, and of those who are still open.</summary>
    const int MostAlone = 12, MostOpen = 20;

    const int MostRounds = 8;

    readonly Dictionary<Guest, Berth> settled = [];
    readonly List<Day> days = [.. Enumerable.Range(0, trials.Problem.Slots.Count).GroupBy(at => trials.Problem.Slots[at].Local.Date).Select(hours => new Day(
        hours.ToHashSet(), trials.Problem.Guests.Where(guest => hours.Any(at => trials.Problem.Slots[at].Overlaps(guest.Arrival.From, guest.Arrival.Until))).ToHashSet()))];

    /// <summary>The hours of a local day, and who is there in one of them.</summary>
    sealed record Day(IReadOnlySet<int> Slots, IReadOnlySet<Guest> Guests);

    sealed record DayPlan(Plan Plan, double LeastVolts);

    /// <summary>The boats of the day that is hardest by itself.</summary>
    /// <returns>A bound on the sag of every plan, and the relaxation with those boats settled; null where no day has few guests.</returns>
    public (double BoundVolts, Relaxed? Settled) SettleHardest(double boundVolts)
    {
        var hardest = (Day?)null;
        foreach (var day in days.Where(day => day.Guests.Count is > 0 and <= MostAlone))
            if (Least(day, boundVolts, []) is { } least && (hardest is null || least.LeastVolts > boundVolts))
                (boundVolts, hardest) = (Math.Max(boundVolts, least.LeastVolts), day);
        if (hardest is null)
            return (boundVolts, null);
        var found = Settle(hardest, boundVolts, 0.001);
        return (Math.Max(boundVolts, found.BoundVolts), found.Settled);
    }

    /// <summary>The boats of the day with the fewest that are open.</summary>
    /// <param name="closeVolts">So much more than the best is good enough.</param>
    /// <returns>The relaxation with them settled as well; null: no day is left, or none with few.</returns>
    public Relaxed? SettleNext(double wantedVolts, double closeVolts)
    {
        var next = days.Where(day => Open(day) is > 0 and <= MostOpen).MinBy(Open);
        return next is null ? null : Settle(next, wantedVolts, closeVolts).Settled;
    }

    int Open(Day day) => day.Guests.Count(guest => !settled.ContainsKey(guest));

    (double BoundVolts, Relaxed? Settled) Settle(Day day, double wantedVolts, double closeVolts)
    {
        var (best, plan, bound, cuts) = ((Relaxed?)null, (Plan?)null, wantedVolts, new List<SagCut>());
        for (var round = 0; round < MostRounds && Least(day, bound, cuts) is { } least; round++)
        {
            bound = Math.Max(bound, least.LeastVolts);
            relaxation.Settle(new Dictionary<Guest, Berth>([.. settled, .. least.Plan.Berths.Where(pair => !settled.ContainsKey(pair.Key))]));
            if (trials.Relax(relaxation, share) is not { } relaxed)
                break;
            if (best is null || relaxed.Value < best.Value)
                (best, plan) = (relaxed, least.Plan);
            if (best.Value <= bound + closeVolts)
                break;
            List<(Choice Choice, double Value)> terms = [.. Columns(day).Select(choice => (choice, relaxed.Costs[choice.At]))];
            cuts.Add(new(relaxed.Value - terms.Sum(term => term.Value * relaxed.Shares[term.Choice.At]), terms));
        }
        foreach (var (guest, berth) in plan?.Berths ?? new Dictionary<Guest, Berth>())
            settled[guest] = berth;
        relaxation.Settle(settled);
        return (bound, best);
    }

    List<Choice> Columns(Day day) =>
        [.. trials.Rows.Choices.Where(choice => day.Guests.Contains(choice.Guest) && (!settled.TryGetValue(choice.Guest, out var berth) || berth == choice.Berth))];

    /// <summary>The day alone, with its least w, which is not less than is wanted.</summary>
    DayPlan? Least(Day day, double wantedVolts, IReadOnlyList<SagCut> cuts)
    {
        var columns = Columns(day);
        while (trials.IsTime(share))
        {
            var model = new PlacementModel(trials.Problem, trials.Rows, columns, day.Guests);
            model.Keep(known);
            model.MinimizeSag(day.Slots, wantedVolts, cuts);
            var found = trials.Solve(model, PlacementTrials.FewWork, share);
            if (found.Plan is null)
                return null;
            if (!trials.Rows.AddMissed(trials.Rows.Shares(found.Plan), found.Volts.Found, day.Slots))
                return new(found.Plan, found.Volts.Least);
        }
        return null;
    }
}
