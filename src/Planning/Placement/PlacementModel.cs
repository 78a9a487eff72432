using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Google.OrTools.Sat;

namespace Farberth.Planning.Placement;

// x_gb = 1: guest g lies in berth b. refused_g = 1 − Σ_b x_gb. Cliques: boats that are there at the same time, one to a slip.
// With a_g(t) the amps of a guest's contacts in hour t, J_b the effect of an ampere there and F₀(t) the dock with those who stay:
//
//     volts:  U_ref − F₀ᵢ(t) − Σ J_bi·a_g(t)·x_gb  ≤  0.1 V · w_d       for the watched places of each dock d
//     amps:   F₀ᵢ(t) + Σ J_bi·a_g(t)·x_gb  ≤  bound
//     w ≥ w_d for every dock
//
// w counts tenths of a volt: less is beyond any forecast, and so a proof of the best plan does not run after millivolts. Rows for other
// places and hours are added when the full load flow finds that a plan breaks them (Correct).

/// <summary>The assignment as an integer program over the sensitivities.</summary>
sealed class PlacementModel
{
    public const double ResolutionVolts = 0.1;

    const int UnitsPerVolt = 10_000, UnitsPerBound = 100_000;

    /// <summary>Hours of a dock that are in the model from the start; the others come when they matter.</summary>
    const int FirstHours = 12;

    readonly PlacementProblem problem;
    readonly CpModel model = new();
    readonly List<(Guest Guest, Berth Berth, BoolVar Is)> choices;
    readonly Dictionary<DockProblem, IntVar> dockSags;
    readonly Dictionary<Guest, BoolVar> refused = [];
    readonly IntVar sag;

    public PlacementModel(PlacementProblem problem)
    {
        this.problem = problem;
        choices = [.. problem.Guests.SelectMany(guest => guest.Berths.Select((berth, at) => (guest, berth, model.NewBoolVar($"{guest.Boat.Name} {at}"))))];
        ByDock = choices.ToLookup(choice => problem.DockOf(choice.Berth));
        foreach (var guest in problem.Guests)
            AddGuest(guest);
        AddSlips();
        dockSags = problem.Docks.ToDictionary(dock => dock, dock => model.NewIntVar(0, WorstAllowed(dock), dock.Dock.Name));
        sag = model.NewIntVar(0, problem.Docks.Max(WorstAllowed), "sag");
        foreach (var dock in problem.Docks)
        {
            model.Add(sag >= dockSags[dock]);
            foreach (var slot in FirstHoursOf(dock))
                AddFirstRows(dock, slot);
        }
    }

    ILookup<DockProblem?, (Guest Guest, Berth Berth, BoolVar Is)> ByDock { get; }

    void AddGuest(Guest guest)
    {
        refused[guest] = model.NewBoolVar($"{guest.Boat.Name} refused");
        model.AddExactlyOne([.. choices.Where(choice => choice.Guest == guest).Select(choice => choice.Is), refused[guest]]);
        if (guest.MovesFrom != null)
            model.Add(refused[guest] == 0);
    }

    /// <summary>At each moment after which somebody leaves, those who are there: every other set of boats at once is part of one of these.</summary>
    void AddSlips()
    {
        foreach (var slip in choices.GroupBy(choice => choice.Berth.Slip))
        {
            var guests = slip.Select(choice => choice.Guest).Distinct().ToList();
            var sets = new List<HashSet<Guest>>();
            foreach (var first in guests.OrderBy(guest => guest.Arrival.From))
            {
                HashSet<Guest> there = [.. guests.Where(guest => guest.Arrival.From <= first.Arrival.From && guest.Arrival.Until > first.Arrival.From)];
                sets.RemoveAll(there.IsSupersetOf);
                sets.Add(there);
            }
            foreach (var there in sets)
                model.AddAtMostOne(slip.Where(choice => there.Contains(choice.Guest)).Select(choice => choice.Is));
        }
    }

    long WorstAllowed(DockProblem dock) => Tenths(problem.ReferenceVolts - dock.LowestAllowedVolts);

    IEnumerable<int> FirstHoursOf(DockProblem dock) => problem.Peaks
        .OrderByDescending(slot => dock.FixedAmps(slot) + problem.Guests.Sum(guest => guest.Amps[slot] * guest.Boat.Cords.Sum(cord => cord.Legs)))
        .Take(FirstHours);

    void AddFirstRows(DockProblem dock, int slot)
    {
        var limits = dock.Case.Limits;
        for (var at = 0; at < limits.Count; at++)
        {
            var isFirst = limits[at].Kind switch
            {
                LimitKind.Volts => dock.Watched.Contains(at),
                LimitKind.Cable => dock.Dock.Cables.First(cable => cable.To == limits[at].Place).From == DockDefinition.SourcePoint,
                LimitKind.Neutral => false,
                _ => true,
            };
            if (isFirst)
                AddRow(dock, slot, at, dock.FixedFlow(slot).Values[at], dock.Effect);
        }
    }

    /// <param name="without">The value with no guest at all, as the row has it.</param>
    void AddRow(DockProblem dock, int slot, int limit, double without, Func<Berth, double[]> effect)
    {
        var isVolts = dock.Case.Limits[limit].Kind == LimitKind.Volts;
        var bound = dock.Bound(slot, limit);
        var scale = isVolts ? -UnitsPerVolt : UnitsPerBound / bound;
        var there = ByDock[dock].Where(choice => choice.Guest.Amps[slot] > 0).ToList();
        var terms = there.ConvertAll(choice => (long)Math.Round(effect(choice.Berth)[limit] * choice.Guest.Amps[slot] * scale));
        var sum = LinearExpr.WeightedSum(there.Select(choice => choice.Is), terms);
        if (isVolts)
        {
            model.Add(sum + (long)Math.Ceiling((problem.ReferenceVolts - without) * UnitsPerVolt) <= dockSags[dock] * (long)(ResolutionVolts * UnitsPerVolt));
            if (bound < problem.Site.Limits.Volts.LowA || WorstAllowed(dock) * ResolutionVolts > problem.ReferenceVolts - bound)
                model.Add(sum <= (long)Math.Floor((without - bound) * UnitsPerVolt));
        }
        else if (Most(there, terms) > (bound - without) * scale)
        {
            model.Add(sum <= (long)Math.Floor((bound - without) * scale));
        }
    }

    /// <summary>What all guests can bring about at once, each in its worst berth.</summary>
    static long Most(List<(Guest Guest, Berth Berth, BoolVar Is)> there, List<long> terms) =>
        there.Zip(terms).GroupBy(pair => pair.First.Guest).Sum(guest => Math.Max(0, guest.Max(pair => pair.Second)));

    /// <summary>
    /// Cuts off what the full load flow does not confirm: the rows of the limits that a plan breaks, and of each dock's lowest volts, with
    /// sensitivities taken anew at the plan and made to give there what the load flow gives.
    /// </summary>
    public void Correct(PlanCheck check)
    {
        foreach (var at in check.Broken.Concat(check.Lowest.Values).Distinct().Where(at => !at.Dock.FixedFlow(at.Slot).Values[at.Limit].Equals(at.Value)))
        {
            var guests = check.Plan.On(at.Dock).Where(pair => pair.Guest.Amps[at.Slot] > 0).ToList();
            var here = new DockSensitivity(at.Dock.Case, at.Dock.Draws(at.Slot, guests));
            var effects = new Dictionary<Berth, double[]>();
            double[] Effect(Berth berth) => effects.TryGetValue(berth, out var known) ? known : effects[berth] = here.Of(berth);
            var value = at.Dock.Flow(at.Slot, guests).Values[at.Limit];
            AddRow(at.Dock, at.Slot, at.Limit, value - guests.Sum(pair => Effect(pair.Berth)[at.Limit] * pair.Guest.Amps[at.Slot]), Effect);
            if (at.What.Kind == LimitKind.Volts && !at.Dock.Watched.Contains(at.Limit))
                Watch(at.Dock, at.Limit);
        }
    }

    void Watch(DockProblem dock, int limit)
    {
        dock.Watched.Add(limit);
        foreach (var slot in FirstHoursOf(dock))
            AddRow(dock, slot, limit, dock.FixedFlow(slot).Values[limit], dock.Effect);
    }

    /// <summary>Cuts off one plan: rounding of the rows let it through again.</summary>
    public void Forbid(Plan plan)
    {
        List<BoolVar> chosen = [.. choices.Where(choice => plan.Berths.TryGetValue(choice.Guest, out var berth) && berth.Equals(choice.Berth)).Select(choice => choice.Is)];
        model.Add(LinearExpr.Sum(chosen) <= chosen.Count - 1);
    }

    /// <summary>Boats without a place first, then boats that move.</summary>
    public void MinimizePlaces()
    {
        var moves = choices.Where(choice => choice.Guest.MovesFrom is { } own && own != choice.Berth.Slip).Select(choice => choice.Is).ToList();
        model.Minimize(LinearExpr.Sum(refused.Values) * (problem.Guests.Count + 1) + LinearExpr.Sum(moves));
        Unit = problem.Guests.Count + 1;
    }

    /// <summary>The lowest volts of the site, with no fewer places and no more moves.</summary>
    public void MinimizeSag(Plan places)
    {
        model.Add(LinearExpr.Sum(refused.Values) <= problem.Guests.Count - places.Berths.Count);
        var moves = choices.Where(choice => choice.Guest.MovesFrom is { } own && own != choice.Berth.Slip).Select(choice => choice.Is).ToList();
        model.Add(LinearExpr.Sum(moves) <= places.Moved);
        model.Minimize(sag);
        Unit = 1 / ResolutionVolts;
    }

    /// <summary>Wishes and the volts of the other docks, with the lowest volts of the site no lower. A wish weighs half a volt of one dock.</summary>
    public void MinimizeRest(double sagVolts)
    {
        model.Add(sag <= (long)Math.Ceiling(sagVolts / ResolutionVolts - 1e-6));
        var unmet = choices.Where(choice => choice.Guest.Arrival.HasWish && !choice.Guest.Wishes(choice.Berth)).Select(choice => choice.Is).ToList();
        model.Minimize(LinearExpr.Sum(dockSags.Values) + LinearExpr.Sum(unmet) * 5);
        Unit = 1 / ResolutionVolts;
    }

    /// <summary>Units of the objective in one boat or one volt.</summary>
    public double Unit { get; private set; } = 1;

    public void Hint(PlanCheck check)
    {
        var plan = check.Plan;
        model.ClearHints();
        foreach (var (dock, volts) in dockSags)
            model.AddHint(volts, check.Lowest.TryGetValue(dock, out var lowest) ? Tenths(problem.ReferenceVolts - lowest.Value) : 0);
        model.AddHint(sag, Tenths(check.SagVolts(problem)));
        foreach (var (guest, berth, isThere) in choices)
            model.AddHint(isThere, plan.Berths.TryGetValue(guest, out var given) && given.Equals(berth));
        foreach (var (guest, isRefused) in refused)
            model.AddHint(isRefused, !plan.Berths.ContainsKey(guest));
    }

    static long Tenths(double volts) => (long)Math.Ceiling(volts / ResolutionVolts);

    public CpSolverStatus Solve(CpSolver solver, SolutionCallback callback) => solver.Solve(model, callback);

    public Plan Read(CpSolver solver) => new(
        choices.Where(choice => solver.BooleanValue(choice.Is)).ToDictionary(choice => choice.Guest, choice => choice.Berth));
}
