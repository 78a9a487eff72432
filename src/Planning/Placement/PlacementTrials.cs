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

/// <summary>What all searches of one placement share: the rows found so far, the plans that failed, and the time that is left.</summary>
sealed class PlacementTrials(PlacementProblem problem, PlacementEffort effort, CancellationToken stop)
{
    /// <summary>Of each guest at each dock.</summary>
    const int FewBerths = 8;

    /// <summary>So much one search is worth, in the solver's own measure of work, some seconds of a processor: a clock would make plans depend on it.</summary>
    const double RestWork = 0.5, FewWork = 1, AllWork = 30;

    readonly List<Plan> forbidden = [];
    double spentSeconds;

    public PlacementProblem Problem => problem;

    public PlacementRows Rows { get; } = new(problem);

    /// <summary>How often a plan was put through the full load flow.</summary>
    public int Rounds { get; private set; }

    public bool IsTime(double share) => spentSeconds < share * effort.Limit.TotalSeconds && !stop.IsCancellationRequested;

    /// <summary>How much of the time is spent.</summary>
    public double SpentShare => spentSeconds / effort.Limit.TotalSeconds;

    public Relaxed? Relax(PlacementRelaxation relaxation, double share)
    {
        var before = relaxation.SpentSeconds;
        var relaxed = relaxation.Solve(share * effort.Limit.TotalSeconds - spentSeconds, stop);
        spentSeconds += relaxation.SpentSeconds - before;
        return relaxed;
    }

    public PlacementModel Model(IReadOnlyList<Choice> columns)
    {
        var model = new PlacementModel(problem, Rows, columns, problem.Guests);
        forbidden.ForEach(model.Forbid);
        return model;
    }

    public Searched Solve(PlacementModel model, Reach reach, double share)
    {
        var work = reach switch
        {
            Reach.Rest => RestWork,
            Reach.Few => FewWork,
            _ => AllWork,
        };
        var found = model.Solve(work, Math.Max(0.1, share * effort.Limit.TotalSeconds - spentSeconds), effort.Workers, stop);
        spentSeconds += found.WallSeconds;
        return found;
    }

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

    /// <summary>The plan as such is out too, should rounding let it through its new rows.</summary>
    public void Correct(PlanCheck check)
    {
        Rows.Correct(check);
        forbidden.Add(check.Plan);
    }
}
