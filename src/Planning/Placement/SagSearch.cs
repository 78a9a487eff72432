namespace Farberth.Planning.Placement;

// b bounds every plan: z of the relaxation, or the hardest day's w (DayByDay.cs). Plans with w ≤ v = b + ½ % are looked for with the boats where
// they are that are settled or that the relaxation lays whole into a berth; the others have a few berths each. Where there is none v goes up, where
// there is one it goes halfway down again; then the next day is settled, and so on. Rows that a plan came up against may spoil what was settled
// before they were known: then everything begins again with them. What is still open is decided, if time allows, among all berths:
//
//     there is none               b := v, proven, and again
//     there is one, and the load flow confirms w ≤ b + 1 %     the best there is, to a hundredth
//     there is one that it does not confirm     its rows are taken anew at that plan, z with them, and again
//     no answer for the work that it is worth     v is left undecided and goes up
//
// To look for a plan is far quicker than to let a solver push an objective down by itself.

/// <summary>Looks for the plan with the least sag, all places kept.</summary>
sealed class SagSearch(PlacementTrials trials, PlanCheck start, Action<PlacementProgress>? progress, double share) : IDisposable
{
    const int MostRounds = 200;

    readonly PlacementRelaxation relaxation = new(trials.Problem, trials.Rows, start.Plan, isForPlaces: false);
    AimLadder ladder = new();
    DayByDay? days;
    Relaxed? relaxed;
    Relaxed? settled;

    /// <summary>Boats were settled before rows were known that plans came up against later.</summary>
    bool isSpoilt;

    public PlanCheck Best { get; private set; } = start;

    /// <summary>No plan has less.</summary>
    public double BoundVolts { get; private set; }

    double SagVolts => Best.SagVolts(trials.Problem);

    public void Run()
    {
        for (var round = 0; round < MostRounds && trials.IsTime(share); round++)
        {
            if (days is null && !Begin())
                return;
            progress?.Invoke(new PlacementProgress.Sag(SagVolts, BoundVolts));
            if (ladder.Next(BoundVolts, Math.Max(BoundVolts, settled?.Value ?? 0), SagVolts) is not { } aim)
                return;
            if (ladder.Reach == Reach.Rest || settled is null)
                Try(aim);
            else if (SettleNext() is { } next)
                (settled, ladder) = (next, new(mostFailures: 1));
            else if (isSpoilt)
                days = null;
            else
                GiveUpSettling();
        }
    }

    bool Begin()
    {
        relaxation.Settle(new Dictionary<Guest, Berth>());
        (days, ladder, isSpoilt) = (new(trials, relaxation, Best.Plan, share), new(), false);
        relaxed = trials.Relax(relaxation, share);
        if (relaxed is null)
            return false;
        (BoundVolts, settled) = days.SettleHardest(Math.Max(BoundVolts, relaxed.Value));
        return true;
    }

    void GiveUpSettling()
    {
        relaxation.Settle(new Dictionary<Guest, Berth>());
        (relaxed, settled) = (trials.Relax(relaxation, share) ?? relaxed, null);
    }

    /// <summary>Null: no day is left, or there would be nothing better.</summary>
    Relaxed? SettleNext()
    {
        var resolution = PlacementSearch.ResolutionVolts(BoundVolts);
        return settled!.Value > SagVolts - resolution / 2 ? null : days!.SettleNext(BoundVolts + resolution / 2, resolution / 4);
    }

    void Try(double aimVolts)
    {
        var found = Search(aimVolts);
        if (found.Plan is null)
        {
            BoundVolts = ladder.Reach == Reach.All && found.IsOver ? aimVolts : BoundVolts;
            ladder.Fail(aimVolts);
        }
        else if (trials.Rows.AddMissed(trials.Rows.Shares(found.Plan), aimVolts) || !IsConfirmed(found.Plan, aimVolts))
        {
            Again();
        }
    }

    /// <summary>The relaxation with the rows that were missing; where they spoil what is settled, from the beginning.</summary>
    void Again()
    {
        isSpoilt = true;
        var again = trials.Relax(relaxation, share);
        if (settled is null)
            relaxed = again ?? relaxed;
        else if (again is null || again.Value > Math.Max(settled.Value, BoundVolts + PlacementSearch.ResolutionVolts(BoundVolts) / 2))
            days = null;
        else
            settled = again;
    }

    Searched Search(double aimVolts)
    {
        var guide = settled ?? relaxed!;
        var model = trials.Model(trials.Columns(guide, ladder.Reach, ladder.Reach == Reach.All ? aimVolts - guide.Value : double.PositiveInfinity));
        model.Limit(aimVolts);
        model.Keep(Best.Plan);
        return trials.Solve(model, ladder.Reach, share);
    }

    /// <summary>The load flow finds about as much sag as was aimed at; else it is corrected.</summary>
    bool IsConfirmed(Plan plan, double aimVolts)
    {
        var check = trials.Verified(plan);
        var sag = check.SagVolts(trials.Problem);
        if (check.Broken.Count == 0 && sag < SagVolts)
            Best = check;
        if (check.Broken.Count == 0 && sag <= aimVolts + PlacementSearch.ResolutionVolts(BoundVolts) / 2)
            return true;
        trials.Correct(check);
        return false;
    }

    public void Dispose() => relaxation.Dispose();
}
