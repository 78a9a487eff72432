using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Placement;
using Farberth.Planning.Survey;
using Google.OrTools.Sat;

namespace Farberth.Planning.Balancing;

// y_ol = 1: outlet o hangs on leg l; exactly one l for each o. a_o(q) is what it drew in quarter q, J_ol,i the effect of an ampere of it on
// volts i (DockSensitivity, taken at the heaviest quarter), V_i(q) the load flow as the dock is wired. For quarters q in which some volts were
// lowest, and the volts i of every pedestal and leg,
//
//     U − V_i(q) − Σ_o a_o(q)·(Σ_l J_ol,i·y_ol − J_o,own,i)  ≤  w_q,     w_q ≤ w,      Σ_o (1 − y_o,own) ≤ k
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
               where outlet.Legs.Count == 1
               select new Movable(
                   pedestal.Name, outlet,
                   legs.ToDictionary(leg => leg, leg => model.NewBoolVar($"{pedestal.Name}.{outlet.Name} {leg}")),
                   legs.ToDictionary(leg => leg, leg => sensitivity.Of(new Berth("", null, [new(pedestal.Name, outlet with { Legs = [leg] })])))),
        ];
        movable.ForEach(outlet => model.AddExactlyOne(outlet.On.Values));
        var moved = movable.SelectMany(outlet => outlet.Others).ToList();
        model.Add(LinearExpr.Sum(moved) <= moves);
        var worst = model.NewIntVar(0, (long)(UnitsPerVolt * dock.Dock.Source.NoLoadVolts), "worst");
        var sags = quarters.ConvertAll(at => Sag(model, worst, at.Quarter, at.Flow, movable));
        // A move that gains nothing is not made: each costs a millivolt.
        model.Minimize(worst * sags.Count + LinearExpr.Sum(sags) + LinearExpr.Sum(moved) * (UnitsPerVolt / 1000));
        using var solver = new CpSolver
        {
            StringParameters = FormattableString.Invariant($"max_time_in_seconds:{limit.TotalSeconds:0.###},random_seed:1,catch_sigint_signal:false"),
        };
        return solver.Solve(model) is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible) ? [] :
        [
            .. from outlet in movable
               let now = outlet.On.First(pair => solver.BooleanValue(pair.Value)).Key
               where now != outlet.Own
               select new LegMove(outlet.Pedestal, outlet.Outlet.Name, outlet.Own, now),
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

    IntVar Sag(CpModel model, IntVar worst, HistoryQuarter quarter, DockFlow flow, List<Movable> movable)
    {
        var sag = model.NewIntVar(0, (long)(UnitsPerVolt * dock.Dock.Source.NoLoadVolts), $"{quarter.Start:u}");
        model.Add(sag <= worst);
        var drawn = quarter.Draws.ToLookup(draw => (draw.Pedestal, draw.Outlet.Name), draw => draw.Amps);
        var drawing = movable.Where(outlet => drawn[(outlet.Pedestal, outlet.Outlet.Name)].Sum() > 0).ToList();
        for (var at = 0; at < dock.Limits.Count; at++)
            if (dock.Limits[at].Kind == LimitKind.Volts)
            {
                double Effect(Movable outlet, Leg leg) => outlet.Effects[leg][at] * drawn[(outlet.Pedestal, outlet.Outlet.Name)].Sum();
                var terms = drawing.SelectMany(outlet => legs.Select(leg =>
                    (Is: outlet.On[leg], Units: (long)Math.Round(-UnitsPerVolt * (Effect(outlet, leg) - Effect(outlet, outlet.Own)))))).Where(term => term.Units != 0).ToList();
                var now = (long)Math.Round(UnitsPerVolt * (dock.Dock.Source.NoLoadVolts - flow.Values[at]));
                model.Add(LinearExpr.WeightedSum(terms.Select(term => term.Is), terms.Select(term => term.Units)) + now <= sag);
            }
        return sag;
    }

    sealed record Movable(string Pedestal, OutletDefinition Outlet, Dictionary<Leg, BoolVar> On, Dictionary<Leg, double[]> Effects)
    {
        public Leg Own => Outlet.Legs[0];

        public IEnumerable<BoolVar> Others => On.Where(pair => pair.Key != Own).Select(pair => pair.Value);
    }
}
