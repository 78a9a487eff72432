using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Loads;

namespace Farberth.Planning.Placement;

/// <summary>One dock in a plan: who lies there already, and how it answers to who comes.</summary>
sealed class DockProblem
{
    readonly PlacementProblem problem;
    readonly IReadOnlyList<Draw>[] fixedDraws;
    readonly DockFlow?[] fixedFlows;
    readonly DockFlow?[] presentFlows;
    readonly double[]?[] bounds;
    readonly Dictionary<Berth, double[]> effects = [];
    readonly Lazy<double> lowestAllowed;
    readonly Lazy<List<(Guest, Berth)>> movers;

    public DockProblem(PlacementProblem problem, DockDefinition dock, Func<string, HourSlot, IReadOnlyList<Draw>?>? known)
    {
        (this.problem, Dock) = (problem, dock);
        var limits = problem.Site.Limits;
        Case = DockCase.Usual(problem.Site, dock, problem.List.Outdoor.HighestCelsius + limits.SunRiseKelvin);
        var here = problem.Fixed.Select(stay => (Stay: stay, Plugged: Plugged(stay)))
            .Where(there => problem.OutletsOf(there.Stay.Slip).Any(found => found.Dock == dock.Name)).ToList();
        fixedDraws = [.. problem.Slots.Select(slot => (IReadOnlyList<Draw>)[.. here.SelectMany(there => Draws(there.Stay, there.Plugged, slot, known))])];
        (fixedFlows, presentFlows, bounds) = (new DockFlow?[fixedDraws.Length], new DockFlow?[fixedDraws.Length], new double[]?[fixedDraws.Length]);
        Sensitivity = new(Case, Halfway());
        var tree = new DockTree(dock);
        Outermost = dock.Pedestals.Keys.Where(pedestal => tree.Pedestals[pedestal].Count == 1).ToHashSet();
        movers = new(() => [.. from guest in problem.Guests
                               from berth in guest.Berths
                               where berth.Slip == guest.MovesFrom && problem.DockOf(berth) == this
                               select (guest, berth)]);
        lowestAllowed = new(() => Math.Min(problem.Site.Limits.Volts.LowA, Enumerable.Range(0, fixedDraws.Length)
            .Select(slot => Math.Min(FixedFlow(slot).Lowest.Volts, PresentFlow(slot).Lowest.Volts)).DefaultIfEmpty(double.PositiveInfinity).Min() - PlanCheck.HairVolts));
    }

    public DockDefinition Dock { get; }

    public DockCase Case { get; }

    public DockSensitivity Sensitivity { get; }

    /// <summary>Pedestals with none beyond. The lowest volts are mostly there, though load on the other leg out there lifts a leg.</summary>
    public IReadOnlySet<string> Outermost { get; }

    /// <summary>The lowest volts that a plan may bring about anywhere on it: the band's end, or what those who lie here make of it already.</summary>
    public double LowestAllowedVolts => lowestAllowed.Value;

    /// <summary>What is drawn by who stays, all contacts together, A.</summary>
    public double FixedAmps(int slot) => fixedDraws[slot].Sum(draw => draw.Amps * draw.Outlet.Legs.Count);

    /// <summary>The hour in which those who stay and some guests draw most.</summary>
    public int BusiestSlot(IReadOnlyList<(Guest Guest, Berth Berth)> guests) => Enumerable.Range(0, fixedDraws.Length).MaxBy(slot =>
        FixedAmps(slot) + guests.Sum(pair => pair.Guest.Amps[slot] * pair.Berth.Outlets.Sum(outlet => outlet.Outlet.Legs.Count)));

    /// <summary>The dock with nobody but who stays.</summary>
    public DockFlow FixedFlow(int slot) => fixedFlows[slot] ??= Case.Solve(fixedDraws[slot]);

    /// <summary>Where and when its volts are lowest with nobody but those who are there now, each where it lies; null where the plan has no hours.</summary>
    public CheckedLimit? LowestAtPresent() =>
        (from slot in Enumerable.Range(0, fixedDraws.Length)
         from limit in Enumerable.Range(0, Case.Limits.Count)
         where Case.Limits[limit].Kind == LimitKind.Volts
         select new CheckedLimit(this, slot, limit, PresentFlow(slot).Values[limit])).MinBy(at => at.Value);

    public bool IsBelowBandAtPresent => LowestAtPresent()?.Value < problem.Site.Limits.Volts.LowA;

    /// <summary>The dock as it is without any plan: those who may be moved lie where they do.</summary>
    DockFlow PresentFlow(int slot) => presentFlows[slot] ??= movers.Value.Count == 0 ? FixedFlow(slot) : Flow(slot, movers.Value);

    /// <summary>The dock with guests as well, by the full load flow.</summary>
    public DockFlow Flow(int slot, IEnumerable<(Guest Guest, Berth Berth)> guests) => Case.Solve(Draws(slot, guests));

    public IReadOnlyList<Draw> Draws(int slot, IEnumerable<(Guest Guest, Berth Berth)> guests) =>
    [
        .. fixedDraws[slot],
        .. from pair in guests
           where pair.Guest.Amps[slot] > 0
           from outlet in pair.Berth.Outlets
           select new Draw(outlet.Pedestal, outlet.Outlet, pair.Guest.Amps[slot]),
    ];

    /// <summary>What one ampere on each contact of a berth of this dock does to every limit.</summary>
    public double[] Effect(Berth berth)
    {
        if (!effects.TryGetValue(berth, out var effect))
            effects[berth] = effect = Sensitivity.Of(berth);
        return effect;
    }

    /// <summary>What a limit is held to: its bound, or what those who lie here make of it already, with or without those who may be moved, and a hair more.</summary>
    public double Bound(int slot, int limit) => (bounds[slot] ??= Bounds(slot))[limit];

    double[] Bounds(int slot) =>
    [
        .. Case.Limits.Zip(FixedFlow(slot).Values, PresentFlow(slot).Values).Select(at => at.First.Kind == LimitKind.Volts
            ? Math.Min(at.First.Bound, Math.Min(at.Second, at.Third) - PlanCheck.HairVolts)
            : Math.Max(at.First.Bound, Math.Max(at.Second, at.Third) * (1 + PlanCheck.HairShare))),
    ];

    /// <summary>How far a value is on the good side of that, as a share; below 0: the limit is passed.</summary>
    public double Room(int slot, int limit, double value) =>
        Case.Limits[limit].Kind == LimitKind.Volts ? value / Bound(slot, limit) - 1 : 1 - value / Bound(slot, limit);

    IEnumerable<Draw> Draws(Stay stay, List<BerthOutlet> plugged, HourSlot slot, Func<string, HourSlot, IReadOnlyList<Draw>?>? known)
    {
        if (slot.Start >= stay.Until)
            return [];
        if (known?.Invoke(stay.Slip, slot) is { } measured)
            return measured.Where(draw => Dock.Pedestals.ContainsKey(draw.Pedestal));
        var amps = BoatDemand.AmpsPerContact(problem.Site.Supply, stay.Boat, slot.Local.TimeOfDay.TotalHours, slot.Celsius);
        return plugged.Select(outlet => new Draw(outlet.Pedestal, outlet.Outlet, amps));
    }

    /// <summary>Each cord in the first free outlet of its kind on this dock; a cord that finds none is left out.</summary>
    List<BerthOutlet> Plugged(Stay stay)
    {
        var plugged = new List<BerthOutlet>();
        var outlets = problem.OutletsOf(stay.Slip).Where(found => found.Dock == Dock.Name).Select(found => found.Outlet).ToList();
        foreach (var cord in stay.Boat.Cords)
            if (outlets.Find(outlet => cord.Fits(outlet.Outlet) && !plugged.Contains(outlet)) is { } outlet)
                plugged.Add(outlet);
        return plugged;
    }

    /// <summary>The busiest hour of those who stay, and half of what the guests draw then, spread over the site's outlets by rating.</summary>
    List<Draw> Halfway()
    {
        if (fixedDraws.Length == 0)
            return [];
        var busiest = Enumerable.Range(0, fixedDraws.Length).MaxBy(slot => FixedAmps(slot) + problem.Guests.Sum(guest => guest.Amps[slot]));
        var contactAmps = problem.Guests.Sum(guest => guest.Amps[busiest] * guest.Boat.Cords.Sum(cord => cord.Legs));
        var ratedAmps = problem.Site.Docks.Values.SelectMany(dock => dock.Pedestals.Values).SelectMany(pedestal => pedestal.Outlets.Values)
            .Sum(outlet => outlet.RatingAmps * outlet.Legs.Count);
        var share = Math.Min(0.5, 0.5 * contactAmps / ratedAmps);
        return
        [
            .. fixedDraws[busiest],
            .. from pedestal in Dock.Pedestals.Values
               from outlet in pedestal.Outlets.Values
               select new Draw(pedestal.Name, outlet, share * outlet.RatingAmps),
        ];
    }
}
