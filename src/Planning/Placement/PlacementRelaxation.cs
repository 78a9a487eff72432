using Google.OrTools.LinearSolver;

namespace Farberth.Planning.Placement;

// The rows of PlacementRows with 0 ≤ x_gb ≤ 1 in place of whole numbers, as if boats could be shared out over berths: a linear program, minimising
// w, or in search of places (n + 1)·Σ r_g + moves. No plan is better than its least value z. It begins with the lightest berths of each guest and
// with few rows; rows that its answer passes (over all places, and the hours in which something is highest or lowest) and berths that would better it are added until none is missing.
//
// d_gb, the reduced cost, says by how much the least value rises at least for each unit of x_gb: any plan with w ≤ v has x_gb = 0 where
// z + d_gb > v. Guests are few beside slips and rows that bind are few beside guests, so most x_gb are whole already and z is close to the best
// of all plans: that is why the search begins here.

/// <summary>What boats that may be shared out would bring.</summary>
/// <param name="Value">z: volts, or boats without a place and moves.</param>
/// <param name="Shares">x_gb, by the places of the choices.</param>
/// <param name="Costs">d_gb.</param>
sealed record Relaxed(double Value, double[] Shares, double[] Costs);

/// <summary>The linear program, with its rows and columns so far.</summary>
sealed class PlacementRelaxation : IDisposable
{
    const int MostRounds = 200;

    /// <summary>Berths of each guest at each dock, to begin with and more in each round.</summary>
    const int Width = 8;

    /// <summary>A berth of a reduced cost below this would make it better.</summary>
    const double Worthwhile = -1e-6;

    readonly PlacementProblem problem;
    readonly PlacementRows rows;
    readonly Solver solver = Solver.CreateSolver("GLOP");
    readonly Variable?[] shares;
    readonly Dictionary<DockProblem, Variable> dockSags;
    readonly Dictionary<Guest, Constraint> guests;
    readonly List<Constraint> slips;
    readonly List<Constraint> written = [];
    readonly Constraint? moves;
    readonly Variable sag;
    readonly bool isForPlaces;
    IReadOnlyDictionary<Guest, Berth> settled = new Dictionary<Guest, Berth>();

    /// <param name="known">A plan; its berths are there from the start.</param>
    /// <param name="isForPlaces">The most places and fewest moves; else no fewer places and no more moves than that plan, and the least sag.</param>
    public PlacementRelaxation(PlacementProblem problem, PlacementRows rows, Plan known, bool isForPlaces)
    {
        (this.problem, this.rows, this.isForPlaces) = (problem, rows, isForPlaces);
        shares = new Variable?[rows.Choices.Count];
        dockSags = problem.Docks.ToDictionary(dock => dock, dock => solver.MakeNumVar(0, rows.AllowedVolts(dock), ""));
        sag = solver.MakeNumVar(0, double.PositiveInfinity, "");
        foreach (var dock in problem.Docks.Where(problem.IsJudged))
            AtMost(0, (dockSags[dock], 1), (sag, -1));
        slips = [.. rows.OneToASlip.Select(_ => AtMost(1))];
        var refused = problem.Guests.ToDictionary(guest => guest, guest => solver.MakeNumVar(0, guest.MovesFrom is null ? 1 : 0, ""));
        guests = refused.ToDictionary(pair => pair.Key, pair => One(pair.Value));
        if (isForPlaces)
            foreach (var one in refused.Values)
                solver.Objective().SetCoefficient(one, problem.Guests.Count + 1);
        else
        {
            AtMost(problem.Guests.Count - known.Berths.Count, [.. refused.Values.Select(one => (one, 1.0))]);
            moves = AtMost(known.Moved);
            solver.Objective().SetCoefficient(sag, 1);
        }
        solver.Objective().SetMinimization();
        AddColumns([.. rows.Choices.Where(choice => known.Berths.GetValueOrDefault(choice.Guest) == choice.Berth)
            .Union(Narrow(rows.Choices, rows.Load))]);
    }

    /// <returns>Null where it was stopped, took too long, or where the rows leave no answer.</returns>
    public Relaxed? Solve(double seconds, CancellationToken stop)
    {
        using var stopping = stop.Register(() => solver.InterruptSolve());
        double Spent() => solver.WallTime() / 1000.0;
        var until = Spent() + seconds;
        for (var round = 0; round < MostRounds && Spent() < until && !stop.IsCancellationRequested; round++)
        {
            while (written.Count < rows.Rows.Count)
                Write(rows.Rows[written.Count]);
            solver.SetTimeLimit((long)Math.Ceiling((until - Spent()) * 1000));
            if (solver.Solve() != Solver.ResultStatus.OPTIMAL)
                return null;
            var (value, costs) = (solver.Objective().Value(), Costs());
            double[] taken = [.. shares.Select(share => share?.SolutionValue() ?? 0)];
            List<Choice> worthwhile = [.. rows.Choices.Where(choice => shares[choice.At] is null && costs[choice.At] < Worthwhile && !settled.ContainsKey(choice.Guest))];
            if (!rows.AddMissed(taken, isForPlaces ? double.PositiveInfinity : sag.SolutionValue()) & worthwhile.Count == 0)
                return new(value, taken, costs);
            AddColumns([.. Narrow(worthwhile, choice => costs[choice.At])]);
        }
        return null;
    }

    static IEnumerable<Choice> Narrow(IEnumerable<Choice> choices, Func<Choice, double> by) =>
        choices.GroupBy(choice => (choice.Guest, choice.Dock)).SelectMany(own => own.OrderBy(by).Take(Width));

    /// <summary>d = c − Σ y·a over all rows, with y what a row's room is worth.</summary>
    double[] Costs()
    {
        double[] costs = [.. rows.Choices.Select(choice =>
            -guests[choice.Guest].DualValue() + (choice.IsMove ? moves is null ? 1 : -moves.DualValue() : 0))];
        for (var at = 0; at < slips.Count; at++)
            if (slips[at].DualValue() is not 0 and var worth)
                foreach (var choice in rows.OneToASlip[at])
                    costs[choice.At] -= worth;
        for (var at = 0; at < written.Count; at++)
            if (written[at].DualValue() is not 0 and var worth)
                foreach (var (choice, value) in rows.Rows[at].Terms)
                    costs[choice] -= worth * value;
        return costs;
    }

    /// <summary>From now on these boats lie whole where they are said to lie, and nobody else does.</summary>
    public void Settle(IReadOnlyDictionary<Guest, Berth> berths)
    {
        settled = berths;
        AddColumns([.. rows.Choices.Where(choice => shares[choice.At] is null && settled.GetValueOrDefault(choice.Guest) == choice.Berth)]);
        foreach (var choice in rows.Choices)
            shares[choice.At]?.SetLb(settled.GetValueOrDefault(choice.Guest) == choice.Berth ? 1 : 0);
    }

    void AddColumns(IReadOnlyList<Choice> columns)
    {
        foreach (var choice in columns)
        {
            shares[choice.At] = solver.MakeNumVar(0, 1, "");
            guests[choice.Guest].SetCoefficient(shares[choice.At], 1);
            if (choice.IsMove && moves is null)
                solver.Objective().SetCoefficient(shares[choice.At], 1);
            else if (choice.IsMove)
                moves!.SetCoefficient(shares[choice.At], 1);
        }
        var added = columns.Select(choice => choice.At).ToHashSet();
        for (var at = 0; at < slips.Count; at++)
            foreach (var choice in rows.OneToASlip[at].Where(choice => added.Contains(choice.At)))
                slips[at].SetCoefficient(shares[choice.At], 1);
        for (var at = 0; at < written.Count; at++)
            foreach (var (choice, value) in rows.Rows[at].Terms.Where(term => added.Contains(term.Choice)))
                written[at].SetCoefficient(shares[choice], value);
    }

    Constraint One(Variable refused)
    {
        var row = solver.MakeConstraint(1, 1);
        row.SetCoefficient(refused, 1);
        return row;
    }

    void Write(PlacementRow row)
    {
        var one = AtMost(row.Room);
        if (row.IsSag)
            one.SetCoefficient(dockSags[row.Dock], -1);
        foreach (var (choice, value) in row.Terms.Where(term => shares[term.Choice] is not null))
            one.SetCoefficient(shares[choice], value);
        written.Add(one);
    }

    Constraint AtMost(double room, params IReadOnlyList<(Variable Of, double Value)> terms)
    {
        var row = solver.MakeConstraint(double.NegativeInfinity, room);
        foreach (var (of, value) in terms)
            row.SetCoefficient(of, value);
        return row;
    }

    public void Dispose() => solver.Dispose();
}
