using System.Globalization;
using Google.OrTools.Sat;

namespace Farberth.Planning.Placement;

/// <summary>What a search by the integer program came to.</summary>
/// <param name="Plan">Null: none was found.</param>
/// <param name="IsOver">The search ended by itself: the plan is the best of these columns, or there is none among them.</param>
/// <param name="Volts">The sag of that plan where sag was made least, and what it cannot be less than among these columns.</param>
sealed record Searched(Plan? Plan, bool IsOver, (double Found, double Least) Volts);

/// <summary>The rows of <see cref="PlacementRows"/> in whole numbers, over some of its columns.</summary>
sealed class PlacementModel
{
    const int UnitsPerVolt = 10_000, UnitsPerBound = 100_000;

    /// <summary>The other docks' sag counts in tenths of a volt, a wish as half a volt of one dock.</summary>
    const int UnitsPerTenth = UnitsPerVolt / 10, TenthsPerWish = 5;

    readonly PlacementProblem problem;
    readonly PlacementRows rows;
    readonly CpModel model = new();
    readonly IReadOnlyList<Choice> columns;
    readonly BoolVar?[] isTaken;
    readonly Dictionary<Guest, BoolVar> isRefused = [];

    /// <param name="guests">Those who are in question; the rows that are kept must not need the others.</param>
    public PlacementModel(PlacementProblem problem, PlacementRows rows, IReadOnlyList<Choice> columns, IReadOnlyCollection<Guest> guests)
    {
        (this.problem, this.rows, this.columns) = (problem, rows, columns);
        isTaken = new BoolVar?[rows.Choices.Count];
        foreach (var choice in columns)
            isTaken[choice.At] = model.NewBoolVar("");
        var own = columns.ToLookup(choice => choice.Guest, choice => isTaken[choice.At]!);
        foreach (var guest in guests)
        {
            isRefused[guest] = model.NewBoolVar("");
            model.AddExactlyOne([.. own[guest], isRefused[guest]]);
            if (guest.MovesFrom != null)
                model.Add(isRefused[guest] == 0);
        }
        foreach (var slip in rows.OneToASlip.Select(slip => slip.Select(choice => isTaken[choice.At]).OfType<BoolVar>().ToList()).Where(slip => slip.Count > 1))
            model.AddAtMostOne(slip);
    }

    IEnumerable<BoolVar> Moves => columns.Where(choice => choice.IsMove).Select(choice => isTaken[choice.At]!);

    /// <summary>v: only plans with w ≤ v; infinite: any that the limits allow.</summary>
    public void Limit(double sagVolts)
    {
        foreach (var row in rows.Rows)
            Limit(row, row.IsSag ? rows.AllowedVolts(row.Dock, sagVolts) : 0);
    }

    /// <summary>Terms are rounded to the nearest unit, room is not: a plan may pass by millivolts, the load flow sees them.</summary>
    void Limit(PlacementRow row, double sagVolts)
    {
        var (terms, room) = (Terms(row), (row.Room + sagVolts) * Units(row));
        // What all guests can bring about at once, each in its worst berth, is not too much.
        if (terms.GroupBy(term => term.Choice.Guest).Sum(guest => Math.Max(0, guest.Max(term => term.Units))) > room)
            model.Add(Sum(terms) <= (long)Math.Floor(room));
    }

    /// <summary>w is made least over the rows of some hours alone, but not less than is wanted.</summary>
    public void MinimizeSag(IReadOnlySet<int> slots, double wantedVolts, IReadOnlyList<SagCut> cuts)
    {
        var most = rows.Rows.Select(row => rows.AllowedVolts(row.Dock)).Append(wantedVolts).Max();
        var sag = model.NewIntVar((long)Math.Floor(wantedVolts * UnitsPerVolt), (long)Math.Ceiling(most * UnitsPerVolt), "");
        foreach (var row in rows.Rows.Where(row => slots.Contains(row.Slot)))
            if (row.IsSag && problem.IsJudged(row.Dock))
                model.Add(Sum(Terms(row)) <= sag + (long)Math.Floor(row.Room * UnitsPerVolt));
            else
                Limit(row, row.IsSag ? rows.AllowedVolts(row.Dock) : 0);
        foreach (var cut in cuts)
            model.Add(Sum([.. cut.Terms.Select(term => (term.Choice, (long)Math.Round(term.Value * UnitsPerVolt)))]) <= sag - (long)Math.Floor(cut.Volts * UnitsPerVolt));
        model.Minimize(sag);
    }

    static int Units(PlacementRow row) => row.IsSag ? UnitsPerVolt : UnitsPerBound;

    List<(Choice Choice, long Units)> Terms(PlacementRow row) =>
    [
        .. row.Terms.Where(term => isTaken[term.Choice] is not null)
            .Select(term => (rows.Choices[term.Choice], (long)Math.Round(term.Value * Units(row)))).Where(term => term.Item2 != 0),
    ];

    LinearExpr Sum(List<(Choice Choice, long Units)> terms) =>
        LinearExpr.WeightedSum(terms.Select(term => isTaken[term.Choice.At]!), terms.Select(term => term.Units));

    /// <summary>Boats without a place first, then boats that move.</summary>
    /// <param name="least">No plan has less: the search is over when it gets there.</param>
    public void MinimizePlaces(double least)
    {
        var objective = LinearExpr.Sum(isRefused.Values) * (problem.Guests.Count + 1) + LinearExpr.Sum(Moves);
        model.Add(objective >= (long)Math.Ceiling(least - 1e-6));
        model.Minimize(objective);
    }

    /// <summary>No fewer places and no more moves than a plan has.</summary>
    public void Keep(Plan places)
    {
        model.Add(LinearExpr.Sum(isRefused.Values) <= problem.Guests.Count - places.Berths.Count);
        model.Add(LinearExpr.Sum(Moves) <= places.Moved);
    }

    /// <summary>Wishes, and the sag of each dock for itself.</summary>
    public void MinimizeRest()
    {
        var sags = problem.Docks.ToDictionary(dock => dock, dock => model.NewIntVar(0, (long)Math.Ceiling(rows.AllowedVolts(dock) * 10), ""));
        foreach (var row in rows.Rows.Where(row => row.IsSag))
            model.Add(Sum(Terms(row)) <= sags[row.Dock] * UnitsPerTenth + (long)Math.Floor(row.Room * UnitsPerVolt));
        var unmet = columns.Where(choice => choice.Guest.Arrival.HasWish && !choice.Guest.Wishes(choice.Berth)).Select(choice => isTaken[choice.At]!);
        model.Minimize(LinearExpr.Sum(sags.Values) + LinearExpr.Sum(unmet) * TenthsPerWish);
    }

    public void Hint(Plan plan)
    {
        foreach (var choice in columns)
            model.AddHint(isTaken[choice.At]!, plan.Berths.TryGetValue(choice.Guest, out var given) && given.Equals(choice.Berth));
        foreach (var (guest, refused) in isRefused)
            model.AddHint(refused, !plan.Berths.ContainsKey(guest));
    }

    /// <summary>Cuts off one plan: rounding of the rows let it through again.</summary>
    public void Forbid(Plan plan)
    {
        List<BoolVar> chosen = [.. columns.Where(choice => plan.Berths.TryGetValue(choice.Guest, out var berth) && berth.Equals(choice.Berth)).Select(choice => isTaken[choice.At]!)];
        if (chosen.Count == plan.Berths.Count)
            model.Add(LinearExpr.Sum(chosen) <= chosen.Count - 1);
    }

    /// <param name="work">In the solver's own measure.</param>
    public Searched Solve(double work, double seconds, PlacementEffort effort, CancellationToken stop)
    {
        using var solver = new CpSolver();
        // Probing, symmetry and repeated presolve took ten times what the search itself takes; the relaxation in each node is what finds plans.
        solver.StringParameters = string.Create(
            CultureInfo.InvariantCulture, $"max_time_in_seconds:{seconds:0.###},max_deterministic_time:{work:0.###},num_workers:{effort.Workers},random_seed:{effort.Seed},linearization_level:2,max_presolve_iterations:1,cp_model_probing_level:0,symmetry_level:0,find_big_linear_overlap:false,catch_sigint_signal:false");
        using var stopping = stop.Register(solver.StopSearch);
        var status = solver.Solve(model);
        var isFound = status is CpSolverStatus.Optimal or CpSolverStatus.Feasible;
        return new(
            isFound ? new(columns.Where(choice => solver.BooleanValue(isTaken[choice.At]!)).ToDictionary(choice => choice.Guest, choice => choice.Berth)) : null,
            status is CpSolverStatus.Optimal or CpSolverStatus.Infeasible,
            (isFound ? solver.ObjectiveValue / UnitsPerVolt : double.PositiveInfinity, solver.BestObjectiveBound / UnitsPerVolt));
    }
}
