using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;
using Farberth.Planning.Flow;
using Farberth.Planning.Loads;

namespace Farberth.Planning.Placement;

/// <summary>Everything that a plan must respect, worked out once from the site and the list.</summary>
sealed class PlacementProblem
{
    readonly SlipFits fits;
    readonly Dictionary<string, DockProblem> byName;
    readonly Lazy<HashSet<DockProblem>> judged;

    /// <param name="known">What the outlets of an occupied slip are expected to draw in an hour by their own past; null: nothing is known.</param>
    public PlacementProblem(SiteDefinition site, ArrivalList list, Func<string, HourSlot, IReadOnlyList<Draw>?>? known = null)
    {
        (Site, List, fits) = (site, list, new SlipFits(site));
        var zone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone);
        Slots = HourSlot.Between(list.Start, list.End, zone, list.Outdoor);
        ReferenceVolts = site.Docks.Values.Max(dock => dock.Source.NoLoadVolts);
        List<Stay> movers = [.. list.Present.Where(stay => stay.MayMove)];
        Fixed = [.. list.Present.Except(movers)];
        Guests = [.. list.Arrivals.Select(arrival => Guest(arrival, null)), .. movers.Select(stay =>
            Guest(new(stay.Boat, list.Start, stay.Until, null, []), stay.Slip)).Where(guest => guest.Arrival.Until > list.Start)];
        Docks = [.. site.Docks.Values.Select(dock => new DockProblem(this, dock, known))];
        byName = Docks.ToDictionary(dock => dock.Dock.Name);
        Peaks = PeakHours();
        judged = new(Judged);
    }

    public SiteDefinition Site { get; }

    public ArrivalList List { get; }

    /// <summary>Every hour of the plan.</summary>
    public IReadOnlyList<HourSlot> Slots { get; }

    /// <summary>The hours that are looked at first: those in which some boat draws its most of a day. The rest is looked at when a plan is checked.</summary>
    public IReadOnlyList<int> Peaks { get; }

    /// <summary>Arrivals first, in the order of the list, then those who may move.</summary>
    public IReadOnlyList<Guest> Guests { get; }

    /// <summary>Those who lie where they lie.</summary>
    public IReadOnlyList<Stay> Fixed { get; }

    public IReadOnlyList<DockProblem> Docks { get; }

    /// <summary>Sag is counted from here for all docks alike: the highest no-load volts of the site, V.</summary>
    public double ReferenceVolts { get; }

    /// <summary>
    /// Whether a dock's sag counts for the site's. One that is below its band already does not where there are others: no plan makes it good, and
    /// beside it all plans would be alike. It is kept from getting worse.
    /// </summary>
    public bool IsJudged(DockProblem dock) => judged.Value.Contains(dock);

    public DockProblem? DockOf(Berth berth) => berth.Dock is null ? null : byName[berth.Dock];

    public IEnumerable<(string Dock, BerthOutlet Outlet)> OutletsOf(string slip) => fits.OutletsOf(slip);

    /// <summary>Why a slip is no choice for a boat whoever else comes; null: it is one.</summary>
    public Sentence? Misfit(Arrival arrival, SlipDefinition slip) => fits.Misfit(arrival.Boat, slip) ?? (Keeper(arrival, slip.Name) is { } stay
        ? Sentence.Of("is {0}'s until {1}", stay.Boat.Name, Moment(stay.Until)) : null);

    public Moment Moment(DateTimeOffset time) => new(time, When(time));

    /// <summary>As "Sat 17 Jul 16:00", at the marina.</summary>
    public string When(DateTimeOffset time) => TimeZoneInfo.ConvertTime(time, TimeZoneInfo.FindSystemTimeZoneById(Site.TimeZone))
        .ToString("ddd d MMM HH:mm", System.Globalization.CultureInfo.InvariantCulture);

    Stay? Keeper(Arrival arrival, string slip) => Fixed.FirstOrDefault(stay => stay.Slip == slip && stay.Until > arrival.From);

    Guest Guest(Arrival arrival, string? movesFrom)
    {
        var slips = Site.Slips.Values.Where(slip => slip.Name == movesFrom || Misfit(arrival, slip) is null);
        List<Berth> berths = [.. slips.SelectMany(slip => fits.Berths(arrival.Boat, slip.Name))];
        if (movesFrom != null && berths.TrueForAll(berth => berth.Slip != movesFrom))
            berths.Add(new(movesFrom, null, [])); // it lies there, whatever its cords are said to be
        return new(arrival, movesFrom, berths,
        [
            .. Slots.Select(slot => slot.Overlaps(arrival.From, arrival.Until)
                ? BoatDemand.AmpsPerContact(Site.Supply, arrival.Boat, slot.Local.TimeOfDay.TotalHours, slot.Celsius) : 0),
        ]);
    }

    HashSet<DockProblem> Judged()
    {
        var good = Docks.Where(dock => !dock.IsBelowBandAtPresent).ToHashSet();
        return good.Count > 0 ? good : [.. Docks];
    }

    int[] PeakHours()
    {
        var peaks = new SortedSet<int>();
        foreach (var day in Enumerable.Range(0, Slots.Count).GroupBy(at => Slots[at].Local.Date))
        {
            foreach (var guest in Guests.Where(guest => day.Any(at => guest.Amps[at] > 0)))
                peaks.Add(day.MaxBy(at => guest.Amps[at]));
            foreach (var dock in Docks)
                peaks.Add(day.MaxBy(dock.FixedAmps));
        }
        return [.. peaks];
    }
}
