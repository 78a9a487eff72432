using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Advice;

/// <summary>What a standing alarm asks of one slip.</summary>
sealed record AlarmAsk(string Slip, Ask Ask, double Amps, string Message, string Why);

/// <summary>
/// Alarms that a boater can do something about other than shedding. A hazard is a line in <see cref="Hazards"/>. Shelved alarms ask
/// nobody: a person has put them aside.
/// </summary>
static class AlarmAsks
{
    /// <summary>Kinds on which a boat is to be unplugged, and what the boater is told of it.</summary>
    static readonly IReadOnlyDictionary<AlarmKind, string> Hazards = new Dictionary<AlarmKind, string>
    {
        [AlarmKind.Leakage] = "current leaks from your boat or its cord and may be in the water",
        [AlarmKind.ConnectorHeating] = "the plug or outlet of your cord is overheated",
        [AlarmKind.OpenNeutral] = "the dock's neutral is failing, and the wrong volts can destroy what is plugged in and start a fire",
    };

    /// <summary>One a slip, the most pressing.</summary>
    public static IReadOnlyList<AlarmAsk> Of(DockPicture picture, IReadOnlyList<Alarm> standing) =>
    [
        .. standing.Where(alarm => alarm.State.IsActive() || alarm.State == AlarmState.Suppressed)
            .SelectMany(alarm => Of(picture, alarm)).GroupBy(ask => ask.Slip).Select(asks => asks.MinBy(ask => ask.Ask)!)
            .OrderBy(ask => ask.Slip, StringComparer.Ordinal),
    ];

    static IEnumerable<AlarmAsk> Of(DockPicture picture, Alarm alarm)
    {
        if (alarm.Kind == AlarmKind.ConnectorHeating && !IsOverheated(picture, alarm.Place))
            return []; // there is time: shedding some amps is the better thing, and their limit is one of the others
        if (Hazards.TryGetValue(alarm.Kind, out var hazard))
            return alarm.Kind == AlarmKind.OpenNeutral ? Beyond(picture, alarm, hazard)
                : alarm.Place is { Slip: { } slip, Pedestal: { } pedestal, Outlet: { } outlet }
                    ? [Unplug(picture, alarm, slip, pedestal, outlet, hazard)] : [];
        return alarm.Place is not { Slip: { } owner, Pedestal: { } at } ? [] : alarm.Kind switch
        {
            AlarmKind.SupplyLost => [new(owner, Ask.ShoreLost, 0, BoaterWords.ShoreLost(
                at, alarm.Place.Outlet!, (bool?)alarm.Evidence["open"] == true), $"no supply at outlet {alarm.Place.Outlet} of pedestal {at}")],
            AlarmKind.NoDraw => [new(owner, Ask.CheckBreaker, 0, BoaterWords.CheckBreaker(at), "plugged in, and nothing is drawn")],
            _ => [],
        };
    }

    static bool IsOverheated(DockPicture picture, Place place) => picture.Outlets.Any(risk =>
        risk.Pedestal == place.Pedestal && risk.Outlet.Name == place.Outlet && risk.Contact?.MinutesToLimit == 0);

    /// <summary>Every outlet with a slip beyond the cable whose neutral fails, at which a boat draws or may lie.</summary>
    static IEnumerable<AlarmAsk> Beyond(DockPicture picture, Alarm alarm, string hazard)
    {
        if ((string?)alarm.Evidence["cable"]?[1] is not { } outer)
            return [];
        return
            from pedestal in picture.Tree.Pedestals[outer]
            from outlet in picture.Dock.Pedestals[pedestal].Outlets.Values
            where outlet.Slip != null && picture.Image.Pedestals[pedestal].Outlets[outlet.Name].BoatPresent != false
            select Unplug(picture, alarm, outlet.Slip!, pedestal, outlet.Name, hazard);
    }

    static AlarmAsk Unplug(DockPicture picture, Alarm alarm, string slip, string pedestal, string outlet, string hazard)
    {
        var outlets = picture.Dock.Pedestals.Values.SelectMany(post => post.Outlets.Values.Select(one => (Post: post.Name, Outlet: one)))
            .Where(one => one.Outlet.Slip == slip).ToList();
        var amps = outlets.Sum(one => Amps(picture.Image.Pedestals[one.Post].Outlets[one.Outlet.Name]));
        var named = alarm.Kind == AlarmKind.OpenNeutral
            ? string.Join(" and ", outlets.Where(one => one.Post == pedestal).Select(one => one.Outlet.Name)) : outlet;
        return new(slip, Ask.Unplug, Math.Round(amps, 1), BoaterWords.Unplug(pedestal, named, hazard), $"{alarm.Kind.Word()}: {hazard}");
    }

    static double Amps(OutletImage outlet) => outlet.Latest is { Closed: not false } reading
        ? reading.Amps.Legs.Select(leg => reading.Amps[leg]).DefaultIfEmpty(0).Max() : 0;
}
