namespace Farberth.Planning.Placement;

// b bounds every plan: z of the relaxation, or the hardest day's w (DayByDay.cs). Plans close above it are looked for in three ways, until one is
// within the resolution of b:
//
// 1. Day by day. Plans with w ≤ v = b + ½ % are looked for with the boats where they are that are settled or that the relaxation lays whole into a
//    berth; the others have a few berths each. Where there is none v goes up, where there is one it goes halfway down again; then the next day is
//    settled, and so on. Rows that a plan came up against may spoil what was settled before they were known: then everything begins again with them.
// 2. By annealing (PlanAnnealing.cs) from the best plan so far.
// 3. Among all berths: is there a plan that is better by the resolution? Where there is none, b := v and the best plan is proven. Where there is
//    one it is taken and corrected by the load flow. Where no answer comes for the work that it is worth, annealing goes on, and it is asked again
//    for twice the work.
//
// To look for a plan is far quicker than to let a solver push an objective down by itself.

/// <summary>Looks for the plan with the least sag, all places kept.</summary>
sealed class SagSearch(PlacementTrials trials, Action<PlacementProgress>? progress, double share) : IDisposable
{
    const int MostRounds = 200;

    /// <summary>So often in a row annealing may find nothing before the question among all berths is asked.</summary>
    const int MostIdle = 8;

    readonly PlacementRelaxation relaxation = new(trials.Problem, trials.Rows, trials.Best.Plan, isForPlaces: false);
    readonly AnnealedPlans annealed = new(trials, share);
    AimLadder ladder = new();
    DayByDay? days;
    Relaxed? relaxed;
    Relaxed? settled;
    int idle;
    double allWork = PlacementTrials.AllWork / 4;

    /// <summary>Boats were settled before rows were known that plans came up against later.</summary>
    bool isSpoilt;

    /// <summary>No plan has less.</summary>
    public double BoundVolts { get; private set; }

    double ResolutionVolts => PlacementSearch.ResolutionVolts(BoundVolts);

    public void Run()
    {
        for (var round = 0; round < MostRounds && trials.IsTime(share); round++)
        {
            if (days is null && !Begin())
                return;
            progress?.Invoke(new PlacementProgress.Sag(trials.SagVolts, BoundVolts));
            if (trials.SagVolts - BoundVolts <= ResolutionVolts)
                return;
            if (settled != null)
                GoOnByDays(settled);
            else if (idle < MostIdle)
                idle = annealed.Step(BoundVolts + ResolutionVolts / 2) ? 0 : idle + 1;
            else
                AskAmongAll();
        }
    }

    bool Begin()
    {
        relaxation.Settle(new Dictionary<Guest, Berth>());
        (days, ladder, isSpoilt) = (new(trials, relaxation, trials.Best.Plan, share), new(), false);
        relaxed = trials.Relax(relaxation, share);
        if (relaxed is null)
            return false;
        (BoundVolts, settled) = days.SettleHardest(Math.Max(BoundVolts, relaxed.Value));
        return true;
    }

    void GoOnByDays(Relaxed guide)
    {
        if (ladder.Next(Math.Max(BoundVolts, guide.Value), trials.SagVolts, ResolutionVolts) is { } aim)
            Try(aim, guide);
        else if (SettleNext(guide) is { } next)
            (settled, ladder) = (next, new(mostFailures: 1));
        else if (isSpoilt)
            days = null;
        else
            settled = null;
    }

    /// <summary>Null: no day is left, or there would be nothing better.</summary>
    Relaxed? SettleNext(Relaxed guide) => guide.Value > trials.SagVolts - ResolutionVolts / 2
        ? null : days!.SettleNext(BoundVolts + ResolutionVolts / 2, ResolutionVolts / 4);

    void Try(double aimVolts, Relaxed guide)
    {
        if (Search(aimVolts, guide, Reach.Rest, PlacementTrials.RestWork).Plan is not { } plan)
        {
            ladder.Fail(aimVolts);
            return;
        }
        if (trials.Judge(plan, aimVolts, ResolutionVolts / 2))
            return;
        isSpoilt = true;
        var again = trials.Relax(relaxation, share);
        if (again is null || again.Value > Math.Max(guide.Value, BoundVolts + ResolutionVolts / 2))
            days = null;
        else
            settled = again;
    }

    void AskAmongAll()
    {
        relaxation.Settle(new Dictionary<Guest, Berth>());
        relaxed = trials.Relax(relaxation, share) ?? relaxed;
        var aim = trials.SagVolts - ResolutionVolts;
        var found = Search(aim, relaxed!, Reach.All, allWork);
        if (found.Plan is { } plan)
            trials.Judge(plan, aim, ResolutionVolts / 2);
        else if (found.IsOver)
            BoundVolts = Math.Max(BoundVolts, aim);
        else
            (idle, allWork) = (0, 2 * allWork);
    }

    Searched Search(double aimVolts, Relaxed guide, Reach reach, double work)
    {
        var model = trials.Model(trials.Columns(guide, reach, reach == Reach.All ? aimVolts - guide.Value : double.PositiveInfinity));
        model.Limit(aimVolts);
        model.Keep(trials.Best.Plan);
        return trials.Solve(model, work, share);
    }

    public void Dispose() => relaxation.Dispose();
}
