using System.Text.Json.Nodes;
using Farberth.Monitoring.Outages;
using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// An outlet on which a boat was drawing has no volts or stands open; or the feeder is dead from one point outwards, which is one alarm
/// and has the outlets' as its consequences.
/// </summary>
sealed class SupplyLost : IAlarmRule
{
    /// <summary>A boat that drew within this time before the loss is taken to be there still, unless it is known to have left.</summary>
    static readonly TimeSpan RecentlyDrew = TimeSpan.FromHours(12);

    public AlarmKind Kind => AlarmKind.SupplyLost;

    public IEnumerable<Finding> Judge(DockPicture picture) =>
        picture.Outages.Points.Select(point => DeadFeeder(picture, point)).Concat(Outlets(picture));

    static Finding DeadFeeder(DockPicture picture, string point)
    {
        var outage = picture.Outages.At(point);
        var boats = outage == null ? 0 : BoatsBeyond(picture, outage);
        return new(
            OutagePlace.Of(picture.Dock, point),
            outage is { IsSettled: true, Dead.Count: > 0 } && boats > 0 ? 1 : -1,
            Priorities.Of(Consequence.Damage, minutesToRespond: 10),
            Audience.Everybody,
            () => outage == null ? new("The feeder is alive again.", []) : DescribeFeeder(picture, outage, boats))
        {
            Beyond = point,
            IsPending = outage is { IsSettled: false },
        };
    }

    static int BoatsBeyond(DockPicture picture, Outage outage) => outage.Pedestals
        .SelectMany(name => picture.Image.Pedestals[name].Outlets.Values)
        .Count(outlet => outlet.BoatPresent != false && outage.Since - outlet.LastDrew <= RecentlyDrew);

    static Description DescribeFeeder(DockPicture picture, Outage outage, int boats) => new(
        Invariant($"{OutagePlace.Words(picture.Dock, outage.Point)} has no volts on {string.Join(" and ", outage.Dead)}, at all {outage.Pedestals.Count} pedestals; {boats} outlets were in use. On board, inverters may now be emptying the batteries. A licensed electrician looks at {OutagePlace.Suspect(picture.Dock, outage.Point)} and at what protects it, and finds out why it went before it is switched on again."),
        OutagePlace.Evidence(outage));

    static IEnumerable<Finding> Outlets(DockPicture picture) =>
        from pedestal in picture.Image.Pedestals.Values
        from outlet in pedestal.Outlets.Values
        let isOpen = outlet.Latest?.Closed == false
        let isDead = IsDead(picture, pedestal, outlet)
        let hasBoat = outlet.BoatPresent != false && picture.Image.Now - outlet.LastDrew <= RecentlyDrew
        select new Finding(
            new Place(picture.Dock.Name, null, pedestal.Definition.Name, outlet.Definition.Name, outlet.Definition.Slip),
            (isOpen || isDead) && hasBoat ? 1 : -1,
            Priorities.Of(Consequence.Damage, minutesToRespond: 60),
            Audience.Everybody,
            () => Describe(pedestal, outlet, isOpen, isDead));

    /// <summary>A meter that fell silent after it had said so has not said otherwise.</summary>
    static bool IsDead(DockPicture picture, PedestalImage pedestal, OutletImage outlet) =>
        pedestal.Latest != null && outlet.Definition.Legs
            .Where(pedestal.Latest.Volts.Has)
            .Any(leg => pedestal.Latest.Volts[leg] < picture.Site.Supply.NominalVolts / 2);

    static Description Describe(PedestalImage pedestal, OutletImage outlet, bool isOpen, bool isDead)
    {
        var (name, at) = (outlet.Definition.Name, pedestal.Definition.Name);
        var what = isDead ? $"Pedestal {at} has no volts for outlet {name}" : isOpen
            ? $"The breaker of outlet {name} at pedestal {at} is open" : $"Outlet {name} at pedestal {at} is supplied again";
        return new(
            Invariant($"{what}, and a boat was drawing from it. On board, an inverter may now be emptying the batteries. Find out why it went before it is switched on again."),
            new JsonObject { ["open"] = isOpen, ["no-volts"] = isDead, ["last-drew"] = outlet.LastDrew?.ToString("O") });
    }
}
