using System.Text.Json.Nodes;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// An outlet on which a boat was drawing has no volts or stands open; or the feeder is dead from one point outwards, which is one alarm
/// and has the outlets' as its consequences.
/// </summary>
sealed class SupplyLost : IAlarmRule
{
    /// <summary>A boat that drew within this time before the loss is taken to be there still, unless it is known to have left.</summary>
    public static readonly TimeSpan RecentlyDrew = TimeSpan.FromHours(12);

    public AlarmKind Kind => AlarmKind.SupplyLost;

    public IEnumerable<Finding> Judge(DockPicture picture) =>
        DeadFeeder.Judge(picture).Concat(Outlets(picture));

    IEnumerable<Finding> Outlets(DockPicture picture)
    {
        foreach (var pedestal in picture.Image.Pedestals.Values)
            foreach (var outlet in pedestal.Outlets.Values)
            {
                var (isOpen, isDead) = (outlet.Latest?.Closed == false, IsDead(picture, pedestal, outlet));
                var hasBoat = outlet.BoatPresent != false && picture.Image.Now - outlet.LastDrew <= RecentlyDrew;
                var isLost = (isOpen || isDead) && hasBoat;
                if (isLost || picture.Recalled.At(Kind, pedestal.Definition.Name))
                    yield return Of(picture, pedestal, outlet, isLost, isOpen, isDead);
            }
    }

    static Finding Of(DockPicture picture, PedestalImage pedestal, OutletImage outlet, bool isLost, bool isOpen, bool isDead) => new(
        new Place(picture.Dock.Name, null, pedestal.Definition.Name, outlet.Definition.Name, outlet.Definition.Slip),
        isLost ? 1 : -1,
        Priorities.Of(Consequence.Damage, minutesToRespond: 60),
        Audience.Everybody,
        () => Describe(pedestal, outlet, isOpen, isDead));

    /// <summary>A meter that fell silent after it had said so has not said otherwise.</summary>
    static bool IsDead(DockPicture picture, PedestalImage pedestal, OutletImage outlet)
    {
        if (pedestal.Latest is { Volts: var volts })
            foreach (var leg in outlet.Definition.Legs)
                if (volts[leg] < picture.Site.Supply.NominalVolts / 2) // false where there is no number
                    return true;
        return false;
    }

    static Description Describe(PedestalImage pedestal, OutletImage outlet, bool isOpen, bool isDead)
    {
        var (name, at) = (outlet.Definition.Name, pedestal.Definition.Name);
        return new(
            [
                isDead ? Sentence.Of("Pedestal {0} has no volts for outlet {1}, and a boat was drawing from it.", at, name)
                    : isOpen ? Sentence.Of("The breaker of outlet {0} at pedestal {1} is open, and a boat was drawing from it.", name, at)
                    : Sentence.Of("Outlet {0} at pedestal {1} is supplied again, and a boat was drawing from it.", name, at),
                Sentence.Of("On board, an inverter may now be emptying the batteries."),
                Sentence.Of("Find out why it went before it is switched on again."),
            ],
            new JsonObject { ["open"] = isOpen, ["no-volts"] = isDead, ["last-drew"] = outlet.LastDrew?.ToString("O") });
    }
}
