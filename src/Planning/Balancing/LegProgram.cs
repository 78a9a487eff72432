using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Placement;
using Farberth.Planning.Survey;
using Google.OrTools.Sat;

namespace Farberth.Planning.Balancing;

// y_ow = 1: outlet o is wired in way w, contact c of it on leg w(c) (Wiring.cs); exactly one w for each o. a_oc(q) is what a contact drew in quarter
// q, J_ol,i the effect on volts i of an ampere of o on leg l (DockSensitivity, taken at the heaviest quarter), V_i(q) the load flow as the dock is
// wired. With
//
//     e_ow,i(q) = Σ_c a_oc(q)·J_o,w(c),i
//
// (of an outlet between two legs one a and one J for the pair), for quarters q in which some volts were lowest, and the volts i of every pedestal
// and leg,
//
//     U − V_i(q) − Σ_o Σ_w (e_ow,i(q) − e_o,own,i(q))·y_ow  ≤  w_q,     w_q ≤ w,      Σ_o (1 − y_o,own) ≤ k
//     minimise  n·w + Σ_q w_q
//
// w_q is the sag of quarter q and w the worst: many quarters and not one moment, the worst as much as all together. Amps at the source are not
// balanced for their own sake: moves that even them out there can load one leg at the far end, and there the volts are.

/// <summary>The least sag over a record that some moves to other legs can bring about, by the sensitivities.</summary>
sealed class LegProgram(DockCase dock, DockHistory history)
{
    /// <summary>Quarters that the program sees, the lowest first, an hour apart at least.</summary>
    const int MostQuarters = 30;

    const int UnitsPerVolt = 10_000;

    readonly IReadOnlyList<Leg> legs = dock.Site.Supply.Legs;

    public IReadOnlyList<LegMove> Best(int moves, TimeSpan limit)
    {
        var model = new CpModel();
        var quarters = Lowest();
        var sensitivity = new DockSensitivity(dock, quarters[0].Quarter.Draws);
        List<Movable> movable =
        [
            .. from pedestal in dock.Dock.Pedestals.Values
               from outlet in pedestal.Outlets.Values
               let ways = Wiring.Ways(legs, outlet)
               where ways.Count > 1
               select new Movable(pedestal.Name, outlet, [.. ways.Select(way => (way, model.NewBoolVar($"{pedestal.Name}.{outlet.Name} {string.Join('+', way)}")))]),
        ];
        movable.ForEach(outlet => model.AddExactlyOne(outlet.Ways.Select(way => way.Is)));
        var moved = movable.SelectMany(outlet => outlet.Others).Select(way => way.Is).ToList();
        model.Add(LinearExpr.Sum(moved) <= moves);
        var worst = model.NewIntVar(0, (long)(UnitsPerVolt * dock.Dock.Source.NoLoadVolts), "worst");
        var sags = quarters.ConvertAll(at => Sag(model, worst, at.Quarter, at.Flow, movable, sensitivity));
        // A move that gains nothing is not made: each costs a millivolt.
        model.Minimize(worst * sags.Count + LinearExpr.Sum(sags) + LinearExpr.Sum(moved) * (UnitsPerVolt / 1000));
        using var solver = new CpSolver
        {
            StringParameters = FormattableString.Invariant($"max_time_in_seconds:{limit.TotalSeconds:0.###},random_seed:1,catch_sigint_signal:false"),
        };
        return solver.Solve(model) is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible) ? [] :
        [
            .. from outlet in movable
               let now = outlet.Ways.First(way => solver.BooleanValue(way.Is)).Legs
               where now != outlet.Outlet.Legs
               select new LegMove(outlet.Pedestal, outlet.Outlet.Name, outlet.Outlet.Legs, now),
        ];
    }

    List<(HistoryQuarter Quarter, DockFlow Flow)> Lowest()
    {
        var chosen = new List<(HistoryQuarter Quarter, DockFlow Flow)>();
        foreach (var at in history.Whole.Select(quarter => (Quarter: quarter, Flow: history.Flow(dock, quarter))).OrderBy(at => at.Flow.Lowest.Volts))
            if (chosen.Count < MostQuarters && chosen.TrueForAll(other => (other.Quarter.Start - at.Quarter.Start).Duration() >= TimeSpan.FromHours(1)))
                chosen.Add(at);
        return chosen;
    }

    IntVar Sag(CpModel model, IntVar worst, HistoryQuarter quarter, DockFlow flow, List<Movable> movable, DockSensitivity sensitivity)
    {
        var sag = model.NewIntVar(0, (long)(UnitsPerVolt * dock.Dock.Source.NoLoadVolts), $"{quarter.Start:u}");
        model.Add(sag <= worst);
        var drawn = quarter.Draws.ToLookup(draw => (draw.Pedestal, draw.Outlet.Name));
        List<(BoolVar Is, double[] Change)> moves = [.. movable.SelectMany(outlet => Changes(outlet, [.. drawn[(outlet.Pedestal, outlet.Outlet.Name)]], sensitivity))];
        for (var at = 0; at < dock.Limits.Count; at++)
            if (dock.Limits[at].Kind == LimitKind.Volts)
            {
                var terms = moves.Select(move => (move.Is, Units: (long)Math.Round(-UnitsPerVolt * move.Change[at]))).Where(term => term.Units != 0).ToList();
                var now = (long)Math.Round(UnitsPerVolt * (dock.Dock.Source.NoLoadVolts - flow.Values[at]));
                model.Add(LinearExpr.WeightedSum(terms.Select(term => term.Is), terms.Select(term => term.Units)) + now <= sag);
            }
        return sag;
    }

    /// <summary>e_ow − e_o,own of every other way, for each limit.</summary>
    static IEnumerable<(BoolVar Is, double[] Change)> Changes(Movable outlet, IReadOnlyList<Draw> draws, DockSensitivity sensitivity)
    {
        double[] Effect(LegList way)
        {
            var move = new LegMove(outlet.Pedestal, outlet.Outlet.Name, outlet.Outlet.Legs, way);
            var effects = draws.Select(draw => sensitivity.Of(new Berth("", null, [new(outlet.Pedestal, move.Of(draw).Outlet)])).Select(effect => effect * draw.Amps));
            return effects.Aggregate((sum, more) => sum.Zip(more, (one, other) => one + other)).ToArray();
        }
        if (draws.Sum(draw => draw.Amps) <= 0)
            yield break;
        var own = Effect(outlet.Outlet.Legs);
        foreach (var (legs, isSo) in outlet.Others)
            yield return (isSo, [.. Effect(legs).Zip(own, (then, now) => then - now)]);
    }

    sealed record Movable(string Pedestal, OutletDefinition Outlet, IReadOnlyList<(LegList Legs, BoolVar Is)> Ways)
    {
        public IEnumerable<(LegList Legs, BoolVar Is)> Others => Ways.Skip(1);
    }
}
