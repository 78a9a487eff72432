using Farberth.Planning.Flow;
using Farberth.Planning.Placement;
using Farberth.Planning.Survey;
using Google.OrTools.Sat;

namespace Farberth.Planning.Balancing;

// y_ow = 1: outlet o is wired in way w, contact c of it on leg w(c) (Wiring.cs); exactly one w for each o. a_oc(q) is what a contact drew in quarter
// q. About a wiring p of the whole dock the load flow has V_i(q, p) for volts i, and J_ol,i for an ampere more of o on leg l (DockSensitivity). With
//
//     e_ow,i(q) = Σ_c a_oc(q)·J_o,w(c),i
//
// (of an outlet between two legs one a and one J for the pair), for quarters q in which some volts were lowest, and the volts i of every pedestal
// and leg,
//
//     U − V_i(q, p) − Σ_o (Σ_w e_ow,i(q)·y_ow − e_op,i(q))  ≤  w_q,     w_q ≤ w,      Σ_o (1 − y_o,own) ≤ k
//     minimise  n·w + Σ_q w_q
//
// w_q is the sag of quarter q and w the worst: many quarters and not one moment, the worst as much as all together. Amps at the source are not
// balanced for their own sake: moves that even them out there can load one leg at the far end, and there the volts are.
//
// At first p is the dock as it is. What is found is put through the load flow in every quarter; those that are lowest then come in, with p as found,
// and so on until none is new. Of all that was found the best by the load flow counts.

/// <summary>The least sag over a record that some moves to other legs can bring about.</summary>
sealed class LegProgram
{
    /// <summary>Quarters that the program sees from the start and more with each answer, the lowest first, an hour apart at least.</summary>
    const int FirstQuarters = 30, MoreQuarters = 4;

    const int MostRounds = 6;

    /// <summary>Of the objective: some hundredths of a volt, less than the sensitivities are good for.</summary>
    const double CloseEnough = 0.002;

    const int UnitsPerVolt = 10_000;

    readonly LegRecord record;
    readonly DockCase dock;
    readonly List<Seen> seen = [];
    readonly int mostSag;

    /// <summary>A quarter about a wiring.</summary>
    sealed record Seen(HistoryQuarter Quarter, IReadOnlyList<LegMove> About, DockFlow Flow)
    {
        public DockSensitivity Sensitivity { get; } = new(Flow.Case, [.. LegRecord.Draws(Quarter, About)]);
    }

    public LegProgram(LegRecord record)
    {
        (this.record, dock) = (record, record.Case);
        mostSag = (int)(UnitsPerVolt * dock.Dock.Source.NoLoadVolts);
        seen.AddRange(Lowest([], FirstQuarters));
        Best = ([], seen[0].Flow.Lowest.Volts);
    }

    /// <summary>Of all moves looked for so far those with the highest lowest volts, by the load flow.</summary>
    public (IReadOnlyList<LegMove> Moves, double LowestVolts) Best { get; private set; }

    /// <param name="moves">At most.</param>
    /// <param name="limit">For each of a few solutions.</param>
    public void Look(int moves, TimeSpan limit, CancellationToken stop)
    {
        for (var round = 0; round < MostRounds && !stop.IsCancellationRequested; round++)
        {
            var found = Solve(moves, limit);
            var lowest = Lowest(found, MoreQuarters);
            if (lowest[0].Flow.Lowest.Volts > Best.LowestVolts)
                Best = (found, lowest[0].Flow.Lowest.Volts);
            List<Seen> news = [.. lowest.Where(at => !seen.Exists(known => known.Quarter == at.Quarter && known.About.ToHashSet().SetEquals(at.About)))];
            if (news.Count == 0)
                return;
            seen.AddRange(news);
        }
    }

    List<Seen> Lowest(IReadOnlyList<LegMove> moves, int most)
    {
        var chosen = new List<Seen>();
        foreach (var at in record.Flows(moves).OrderBy(at => at.Flow.Lowest.Volts))
            if (chosen.Count < most && chosen.TrueForAll(other => (other.Quarter.Start - at.Quarter.Start).Duration() >= TimeSpan.FromHours(1)))
                chosen.Add(new(at.Quarter, moves, at.Flow));
        return chosen;
    }

    IReadOnlyList<LegMove> Solve(int moves, TimeSpan limit)
    {
        var model = new CpModel();
        List<Movable> movable =
        [
            .. from pedestal in dock.Dock.Pedestals.Values
               from outlet in pedestal.Outlets.Values
               let ways = Wiring.Ways(dock.Site.Supply.Legs, outlet)
               where ways.Count > 1
               select new Movable([.. ways.Select(way => (new LegMove(pedestal.Name, outlet.Name, outlet.Legs, way), model.NewBoolVar("")))]),
        ];
        movable.ForEach(outlet => model.AddExactlyOne(outlet.Ways.Select(way => way.Is)));
        var moved = movable.SelectMany(outlet => outlet.Ways.Skip(1)).Select(way => way.Is).ToList();
        model.Add(LinearExpr.Sum(moved) <= moves);
        var worst = model.NewIntVar(0, mostSag, "worst");
        var sags = new List<IntVar>();
        foreach (var quarter in seen.GroupBy(at => at.Quarter))
        {
            var sag = model.NewIntVar(0, mostSag, $"{quarter.Key.Start:u}");
            model.Add(sag <= worst);
            sags.Add(sag);
            foreach (var at in quarter)
                AddRows(model, sag, at, movable);
        }
        // A move that gains nothing is not made: each costs a millivolt.
        model.Minimize(worst * sags.Count + LinearExpr.Sum(sags) + LinearExpr.Sum(moved) * (UnitsPerVolt / 1000));
        using var solver = new CpSolver
        {
            StringParameters = FormattableString.Invariant($"max_time_in_seconds:{limit.TotalSeconds:0.###},relative_gap_limit:{CloseEnough},num_workers:1,random_seed:1,linearization_level:2,catch_sigint_signal:false"),
        };
        return solver.Solve(model) is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible) ? []
            : [.. movable.SelectMany(outlet => outlet.Ways.Skip(1)).Where(way => solver.BooleanValue(way.Is)).Select(way => way.Move)];
    }

    void AddRows(CpModel model, IntVar sag, Seen at, List<Movable> movable)
    {
        List<(BoolVar Is, double[] Change)> ways = [.. movable.SelectMany(outlet => Changes(outlet, at))];
        for (var limit = 0; limit < dock.Limits.Count; limit++)
            if (dock.Limits[limit].Kind == LimitKind.Volts)
            {
                var terms = ways.Select(way => (way.Is, Units: (long)Math.Round(-UnitsPerVolt * way.Change[limit]))).Where(term => term.Units != 0).ToList();
                var now = (long)Math.Round(UnitsPerVolt * (dock.Dock.Source.NoLoadVolts - at.Flow.Values[limit]));
                model.Add(LinearExpr.WeightedSum(terms.Select(term => term.Is), terms.Select(term => term.Units)) + now <= sag);
            }
    }

    /// <summary>e_ow − e_op of every way, for each limit.</summary>
    static IEnumerable<(BoolVar Is, double[] Change)> Changes(Movable outlet, Seen at)
    {
        List<Draw> draws = [.. at.Quarter.Draws.Where(draw => draw.Amps > 0 && outlet.Own.IsOf(draw))];
        if (draws.Count == 0)
            return [];
        double[] Effect(LegMove way) => draws
            .Select(draw => at.Sensitivity.Of(new Berth("", null, [new(draw.Pedestal, way.Of(draw).Outlet)])).Select(effect => effect * draw.Amps))
            .Aggregate((sum, more) => sum.Zip(more, (one, other) => one + other)).ToArray();
        var about = Effect(at.About.FirstOrDefault(move => move.IsOf(draws[0])) ?? outlet.Own);
        return outlet.Ways.Select(way => (way.Is, (double[])[.. Effect(way.Move).Zip(about, (then, now) => then - now)]));
    }

    /// <param name="Ways">The first is as it is.</param>
    sealed record Movable(IReadOnlyList<(LegMove Move, BoolVar Is)> Ways)
    {
        public LegMove Own => Ways[0].Move;
    }
}
