using System.Text.Json.Nodes;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// A boat is known to lie in a slip whose outlets are all energised, and draws nothing from any of them: its own breaker
/// may be open, and its batteries are running down.
/// </summary>
sealed class NoDraw : IAlarmRule
{
    public AlarmKind Kind => AlarmKind.NoDraw;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        foreach (var (slip, outlets) in picture.Tree.OutletsOfSlips)
        {
            var (pedestal, outlet) = ImageOf(picture, outlets[0]);
            var isPast = outlet.BoatPresent == true && IsIdle(picture, outlets);
            if (isPast || picture.Recalled.At(Kind, pedestal.Definition.Name))
                yield return Of(picture, slip, outlets, pedestal, outlet, isPast);
        }
    }

    static Finding Of(
        DockPicture picture, string slip, IReadOnlyList<OutletKey> outlets, PedestalImage pedestal, OutletImage outlet, bool isPast) => new(
        new Place(picture.Dock.Name, null, pedestal.Definition.Name, outlet.Definition.Name, slip),
        isPast ? 1 : -1,
        Priorities.Of(Consequence.Damage, minutesToRespond: 60),
        Audience.Harbormaster | Audience.Boater,
        () => Describe(slip, pedestal, outlets.Max(key => ImageOf(picture, key).Outlet.LastDrew)));

    static (PedestalImage Pedestal, OutletImage Outlet) ImageOf(DockPicture picture, OutletKey key)
    {
        var pedestal = picture.Image.Pedestals[key.Pedestal];
        return (pedestal, pedestal.Outlets[key.Outlet]);
    }

    static bool IsIdle(DockPicture picture, IReadOnlyList<OutletKey> outlets)
    {
        for (var at = 0; at < outlets.Count; at++)
            if (ImageOf(picture, outlets[at]) is var (pedestal, outlet) && !IsIdle(picture, pedestal, outlet))
                return false;
        return true;
    }

    static bool IsIdle(DockPicture picture, PedestalImage pedestal, OutletImage outlet)
    {
        if (!pedestal.IsFresh || outlet.Latest is not { } reading || reading.Closed == false)
            return false;
        foreach (var leg in reading.Amps.Legs)
            if (!(reading.Amps[leg] < picture.Site.Limits.DrawingAmps))
                return false;
        foreach (var leg in outlet.Definition.Legs)
            if (!(pedestal.Latest!.Volts[leg] > picture.Site.Supply.NominalVolts / 2))
                return false;
        return true;
    }

    static Description Describe(string slip, PedestalImage pedestal, DateTimeOffset? lastDrew) => new(
        $"The boat in slip {slip} draws nothing, though pedestal {pedestal.Definition.Name} has power. Its own main breaker may be open or its cord loose: look before its batteries run down.",
        new JsonObject { ["last-drew"] = lastDrew?.ToString("O") });
}
