namespace Farberth.Planning.Placement;

/// <summary>Among which berths plans are sought.</summary>
enum Reach
{
    /// <summary>Boats that the relaxation lays whole into a berth stay there, the others have a few.</summary>
    Rest,

    /// <summary>A few berths of each guest at each dock.</summary>
    Few,

    /// <summary>All that are possible.</summary>
    All,
}

/// <summary>What all searches of one placement share: the best plan, the rows found so far, the plans that failed, and the time that is left.</summary>
sealed class PlacementTrials(PlacementProblem problem, PlacementEffort effort, PlanCheck start, CancellationToken stop)
{
    /// <summary>Of each guest at each dock.</summary>
    const int FewBerths = 8;

    /// <summary>What one search is worth, in the solver's own measure of work, about seconds of a processor: a clock would make plans depend on it.</summary>
    public const double RestWork = 0.5, FewWork = 1, AllWork = 30;

    readonly List<Plan> forbidden = [];
    readonly long began = effort.Clock.GetTimestamp();

    public PlacementProblem Problem => problem;

    /// <summary>It may be used: the load flow found no limit passed.</summary>
    public PlanCheck Best { get; set; } = start;

    public double SagVolts => Best.SagVolts(problem);

    public PlacementRows Rows { get; private set; } = new(problem, start.Plan);

    public Random Lots { get; } = new(effort.Seed);

    /// <summary>How often a plan was put through the full load flow.</summary>
    public int Rounds { get; private set; }

    /// <summary>How much of the time is spent.</summary>
    public double SpentShare => effort.Clock.GetElapsedTime(began) / effort.Limit;

    public bool IsTime(double share) => SpentShare < share && !stop.IsCancellationRequested;

    /// <summary>From now on the rows are those about the best plan.</summary>
    public void BeginAnew() => Rows = new(problem, Best.Plan);

    public Relaxed? Relax(PlacementRelaxation relaxation, double share) => relaxation.Solve(Left(share), stop);

    public PlacementModel Model(IReadOnlyList<Choice> columns)
    {
        var model = new PlacementModel(problem, Rows, columns, problem.Guests);
        forbidden.ForEach(model.Forbid);
        return model;
    }

    public Searched Solve(PlacementModel model, double work, double share) => model.Solve(work, Left(share), effort, stop);

    /// <summary>Of each guest at each dock the cheapest berths, those first that the relaxation takes a share of.</summary>
    /// <param name="spare">Berths of a greater reduced cost are not possible.</param>
    public List<Choice> Columns(Relaxed relaxed, Reach reach, double spare)
    {
        bool IsWhole(Choice choice) => relaxed.Shares[choice.At] > 1 - 1e-6;
        var settled = reach == Reach.Rest ? Rows.Choices.Where(IsWhole).Select(choice => choice.Guest).ToHashSet() : [];
        return
        [
            .. Rows.Choices.Where(choice => settled.Contains(choice.Guest) ? IsWhole(choice)
                    : relaxed.Costs[choice.At] <= spare + 1e-6 || relaxed.Shares[choice.At] > 0)
                .GroupBy(choice => (choice.Guest, choice.Dock)).SelectMany(own => own
                    .OrderByDescending(choice => relaxed.Shares[choice.At] > 1e-6 || choice.Guest.MovesFrom == choice.Berth.Slip)
                    .ThenBy(choice => Math.Round(relaxed.Costs[choice.At], 3)).ThenBy(Rows.Load).Take(reach == Reach.All ? int.MaxValue : FewBerths)),
        ];
    }

    public PlanCheck Verified(Plan plan)
    {
        Rounds++;
        return PlanCheck.Of(problem, plan);
    }

    /// <summary>Puts a plan through the load flow: it may be the best, and what the rows do not know of it they learn.</summary>
    /// <param name="claimedVolts">Its sag as the rows have it.</param>
    /// <param name="closeVolts">The load flow may find so much more.</param>
    /// <returns>It may be used, and sags no more than is claimed.</returns>
    public bool Judge(Plan plan, double claimedVolts, double closeVolts)
    {
        var check = Verified(plan);
        var sag = check.SagVolts(problem);
        if (check.Broken.Count == 0 && sag < SagVolts)
            Best = check;
        if (Rows.AddMissed(Rows.Shares(plan), claimedVolts))
            return false;
        if (check.Broken.Count == 0 && sag <= claimedVolts + closeVolts)
            return true;
        Correct(check);
        return false;
    }

    /// <summary>The plan as such is out too, should rounding let it through its new rows.</summary>
    public void Correct(PlanCheck check)
    {
        Rows.Correct(check);
        forbidden.Add(check.Plan);
    }

    double Left(double share) => Math.Max(0.1, (share - SpentShare) * effort.Limit.TotalSeconds);
}
