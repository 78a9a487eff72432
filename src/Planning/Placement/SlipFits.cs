using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;
using Farberth.Planning.Loads;
using static System.FormattableString;

namespace Farberth.Planning.Placement;

/// <summary>Which slips take a boat by size and by plug, and why the others do not.</summary>
sealed class SlipFits
{
    readonly SiteDefinition site;
    readonly ILookup<string, (string Dock, BerthOutlet Outlet)> outlets;

    public SlipFits(SiteDefinition site)
    {
        this.site = site;
        outlets = (
            from dock in site.Docks.Values
            from pedestal in dock.Pedestals.Values
            from outlet in pedestal.Outlets.Values
            where outlet.Slip != null
            select (outlet.Slip!, Dock: dock.Name, Outlet: new BerthOutlet(pedestal.Name, outlet)))
            .ToLookup(found => found.Item1, found => (found.Dock, found.Outlet));
    }

    /// <summary>Every outlet of a slip, whatever its kind.</summary>
    public IEnumerable<(string Dock, BerthOutlet Outlet)> OutletsOf(string slip) => outlets[slip];

    /// <summary>What is wrong with a slip for a boat; null: nothing. A size that the site file does not state refuses nobody.</summary>
    public Sentence? Misfit(Boat boat, SlipDefinition slip) => slip switch
    {
        { LengthMetres: { } length } when boat.LengthMetres > length => Sentence.Of("is {0} long, the boat {1}", Length(length), Length(boat.LengthMetres)),
        { BeamMetres: { } beam } when boat.BeamMetres > beam => Sentence.Of("is {0} wide, the boat {1}", Length(beam), Length(boat.BeamMetres)),
        { DepthMetres: { } depth } when boat.DraughtMetres > depth => Sentence.Of("has {0} of water, the boat draws {1}", Length(depth), Length(boat.DraughtMetres)),
        _ when !Berths(boat, slip.Name).Any() => Sentence.Of("has no outlet for {0}", string.Join(", ", boat.Cords.GroupBy(cord => cord).Select(Count))),
        _ => null,
    };

    /// <summary>In feet where the supply is North American.</summary>
    string Length(double metres) => site.Supply.NominalVolts < 200 ? Invariant($"{metres / 0.3048:0.#} ft") : Invariant($"{metres:0.0#} m");

    static string Count(IGrouping<Cord, Cord> cords) => cords.Count() == 1 ? cords.Key.ToString() : $"{cords.Count()} × {cords.Key}";

    /// <summary>The ways in which the boat's cords find outlets there; ways that are electrically alike are named once.</summary>
    public IEnumerable<Berth> Berths(Boat boat, string slip)
    {
        if (boat.Cords.Count == 0)
            return [new Berth(slip, null, [])];
        return outlets[slip].GroupBy(found => found.Dock).SelectMany(dock =>
            Ways([.. boat.Cords.OrderBy(cord => cord.ToString())], [.. dock.Select(found => found.Outlet)])
                .DistinctBy(way => string.Join(' ', way.Select(outlet => outlet.Connection).Order(ByPlace)))
                .Select(way => new Berth(slip, dock.Key, way)));
    }

    static readonly Comparer<Connection> ByPlace = Comparer<Connection>.Create((one, other) =>
        (string.CompareOrdinal(one.Pedestal, other.Pedestal), one.Legs.CompareTo(other.Legs)).CompareTo((0, 0)));

    static IEnumerable<IReadOnlyList<BerthOutlet>> Ways(IReadOnlyList<Cord> cords, IReadOnlyList<BerthOutlet> free)
    {
        if (cords.Count == 0)
            return [[]];
        return free.Where(outlet => cords[0].Fits(outlet.Outlet)).SelectMany(outlet =>
            Ways([.. cords.Skip(1)], [.. free.Where(other => other != outlet)]).Select(rest => (IReadOnlyList<BerthOutlet>)[outlet, .. rest]));
    }
}
