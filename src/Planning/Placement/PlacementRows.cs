using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;

namespace Farberth.Planning.Placement;

// x_gb = 1: guest g lies in berth b; each guest lies in one or is refused, Σ_b x_gb + r_g = 1. Of boats that are there at the same time, one
// lies in a slip. With a_g(t) the amps of a guest's contacts in hour t, J_b the effect of an ampere there, F₀(t) the dock without guests (both by DockLine.cs) and
// w_d the sag of dock d:
//
//     volts:  U_ref − F₀ᵢ(t) − Σ J_bi·a_g(t)·x_gb  ≤  w_d ≤ w      (w_d ≤ w of docks that count for the site's sag)
//     amps:   (F₀ᵢ(t) + Σ J_bi·a_g(t)·x_gb) / bound  ≤  1
//
// There is such a row for each place and hour, tens of thousands. Only those are written down that some plan, or some mixture of plans, came up
// against: a missing row only makes a bound weaker, never wrong.

/// <summary>A guest in one of its berths: a column.</summary>
/// <param name="At">Its place among all.</param>
sealed record Choice(int At, Guest Guest, Berth Berth, DockProblem? Dock)
{
    public bool IsMove => Guest.MovesFrom is { } own && own != Berth.Slip;
}

/// <summary>Σ value·x ≤ room, or for the sag of a dock Σ value·x − w_d ≤ room.</summary>
/// <param name="Terms">Places of choices, and V of sag or share of a bound.</param>
sealed record PlacementRow(DockProblem Dock, int Slot, bool IsSag, IReadOnlyList<(int Choice, double Value)> Terms, double Room);

/// <summary>Everything that a plan must keep, by the sensitivities: what the relaxation and the integer program both stand on.</summary>
sealed class PlacementRows
{
    /// <summary>Hours of a dock that have rows from the start.</summary>
    const int FirstHours = 12;

    /// <summary>A row is missed that is passed by more than this, V or share.</summary>
    const double MissedBy = 1e-4;

    readonly PlacementProblem problem;
    readonly ILookup<DockProblem?, Choice> byDock;
    readonly Dictionary<DockProblem, DockLine> lines;
    readonly HashSet<(DockProblem, int Slot, int Limit)> there = [];
    readonly List<PlacementRow> rows = [];
    readonly double[] loads;
    readonly SortedSet<int> hours;

    /// <param name="about">Near it the rows agree with the load flow.</param>
    public PlacementRows(PlacementProblem problem, Plan about)
    {
        this.problem = problem;
        lines = problem.Docks.ToDictionary(dock => dock, dock => new DockLine(dock, about));
        Choices = [.. problem.Guests.SelectMany(guest => guest.Berths.Select(berth => (guest, berth)))
            .Select((pair, at) => new Choice(at, pair.guest, pair.berth, problem.DockOf(pair.berth)))];
        loads = new double[Choices.Count];
        hours = [.. problem.Peaks, .. problem.Docks.SelectMany(LowestHours)];
        byDock = Choices.ToLookup(choice => choice.Dock);
        OneToASlip = [.. Choices.GroupBy(choice => choice.Berth.Slip).SelectMany(AtOnce)];
        foreach (var dock in problem.Docks)
            foreach (var slot in FirstHoursOf(dock))
                for (var limit = 0; limit < dock.Case.Limits.Count; limit++)
                    if (IsFirst(dock, dock.Case.Limits[limit]))
                        Add(dock, slot, limit);
    }

    public IReadOnlyList<Choice> Choices { get; }

    /// <summary>Of each of these choices of a slip at most one.</summary>
    public IReadOnlyList<IReadOnlyList<Choice>> OneToASlip { get; }

    public IReadOnlyList<PlacementRow> Rows => rows;

    /// <summary>The sag that a dock may have at most, V.</summary>
    public double AllowedVolts(DockProblem dock) => problem.ReferenceVolts - dock.LowestAllowedVolts;

    /// <summary>The same where the site may have so much.</summary>
    public double AllowedVolts(DockProblem dock, double sagVolts) => problem.IsJudged(dock) ? Math.Min(sagVolts, AllowedVolts(dock)) : AllowedVolts(dock);

    /// <summary>x_gb of a plan.</summary>
    public double[] Shares(Plan plan)
    {
        var shares = new double[Choices.Count];
        foreach (var choice in Choices.Where(plan.Takes))
            shares[choice.At] = 1;
        return shares;
    }

    /// <summary>What a choice brings about in all rows together: among choices that are alike otherwise the lighter one is tried first.</summary>
    public double Load(Choice choice) => loads[choice.At];

    /// <summary>At each moment at which somebody comes, those who are there: every other set of boats at once is part of one of these.</summary>
    static IEnumerable<IReadOnlyList<Choice>> AtOnce(IGrouping<string, Choice> slip)
    {
        var guests = slip.Select(choice => choice.Guest).Distinct().ToList();
        var sets = new List<HashSet<Guest>>();
        foreach (var first in guests.OrderBy(guest => guest.Arrival.From))
        {
            HashSet<Guest> now = [.. guests.Where(guest => guest.Arrival.From <= first.Arrival.From && guest.Arrival.Until > first.Arrival.From)];
            sets.RemoveAll(now.IsSupersetOf);
            sets.Add(now);
        }
        return sets.Select(now => (IReadOnlyList<Choice>)[.. slip.Where(choice => now.Contains(choice.Guest))]);
    }

    /// <summary>Of each day the hour in which those who stay leave the lowest volts: one leg may be low there while the dock is not busy.</summary>
    IEnumerable<int> LowestHours(DockProblem dock) => Enumerable.Range(0, problem.Slots.Count).GroupBy(at => problem.Slots[at].Local.Date)
        .Select(day => day.MinBy(at => dock.FixedFlow(at).Lowest.Volts));

    IEnumerable<int> FirstHoursOf(DockProblem dock) => problem.Peaks
        .OrderByDescending(slot => dock.FixedAmps(slot) + problem.Guests.Sum(guest => guest.Amps[slot] * guest.Boat.Cords.Sum(cord => cord.Legs)))
        .Take(FirstHours);

    static bool IsFirst(DockProblem dock, DockLimit limit) => limit.Kind switch
    {
        LimitKind.Volts => dock.Outermost.Contains(limit.Place),
        LimitKind.Cable => dock.Dock.Cables.First(cable => cable.To == limit.Place).From == DockDefinition.SourcePoint,
        LimitKind.Neutral => false,
        _ => true,
    };

    void Add(DockProblem dock, int slot, int limit)
    {
        if (there.Add((dock, slot, limit)))
            Add(dock, slot, limit, lines[dock]);
    }

    void Add(DockProblem dock, int slot, int limit, DockLine line)
    {
        var isVolts = dock.Case.Limits[limit].Kind == LimitKind.Volts;
        var bound = dock.Bound(slot, limit);
        var scale = isVolts ? -1 : 1 / bound;
        List<(int, double)> terms = [.. byDock[dock].Where(choice => choice.Guest.Amps[slot] > 0)
            .Select(choice => (choice.At, line.Effect(choice.Berth)[limit] * choice.Guest.Amps[slot] * scale)).Where(term => term.Item2 != 0)];
        if (isVolts)
        {
            rows.Add(new(dock, slot, true, terms, line.Without(slot)[limit] - problem.ReferenceVolts));
            foreach (var (at, value) in terms)
                loads[at] += Math.Max(0, value);
        }
        if (!isVolts || problem.ReferenceVolts - bound < AllowedVolts(dock))
            rows.Add(new(dock, slot, false, terms, (bound - line.Without(slot)[limit]) * scale));
    }

    /// <summary>Adds the rows that a mixture of plans passes: of each dock, leg and day its lowest volts, and each kind of limit where it is passed by most.</summary>
    /// <param name="shares">Of each choice, 0 to 1.</param>
    /// <param name="sagVolts">Of the whole site, as the rows see it.</param>
    /// <param name="only">Hours to look at; null: all.</param>
    /// <returns>There were any.</returns>
    public bool AddMissed(double[] shares, double sagVolts, IReadOnlySet<int>? only = null)
    {
        var before = rows.Count;
        foreach (var dock in problem.Docks)
        {
            List<(Choice Choice, double[] Effect)> taken = [.. byDock[dock].Where(choice => shares[choice.At] > 1e-9).Select(choice => (choice, lines[dock].Effect(choice.Berth)))];
            foreach (var worst in hours.Where(slot => only?.Contains(slot) != false).SelectMany(slot => Values(dock, slot, taken, shares)).GroupBy(at => (at.What.Kind, at.What.Leg, problem.Slots[at.Slot].Local.Date))
                .Select(kind => kind.MinBy(at => Spare(at, sagVolts))!).Where(at => Spare(at, sagVolts) < -MissedBy))
                Add(worst.Dock, worst.Slot, worst.Limit);
        }
        return rows.Count > before;
    }

    IEnumerable<CheckedLimit> Values(DockProblem dock, int slot, List<(Choice Choice, double[] Effect)> taken, double[] shares)
    {
        var values = lines[dock].Without(slot).ToArray();
        foreach (var (choice, effect) in taken)
            if (choice.Guest.Amps[slot] * shares[choice.At] is > 0 and var amps)
                for (var limit = 0; limit < values.Length; limit++)
                    values[limit] += effect[limit] * amps;
        return values.Select((value, limit) => new CheckedLimit(dock, slot, limit, value));
    }

    double Spare(CheckedLimit at, double sagVolts) => at.What.Kind == LimitKind.Volts
        ? Math.Min(at.Value - (problem.ReferenceVolts - AllowedVolts(at.Dock, sagVolts)), at.Value - at.Dock.Bound(at.Slot, at.Limit)) : at.Room;

    /// <summary>
    /// Cuts off what the full load flow does not confirm: the rows of the limits that a plan breaks, and of each dock's lowest volts, with
    /// sensitivities taken anew at the plan and made to give there what the load flow gives.
    /// </summary>
    public void Correct(PlanCheck check)
    {
        foreach (var at in check.Broken.Concat(check.Lowest.Values).Distinct())
            Add(at.Dock, at.Slot, at.Limit, new DockLine(at.Dock, check.Plan, at.Slot));
    }
}
