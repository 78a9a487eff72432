using System.Text.Json.Nodes;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;

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
            var isPast = IsBoatIdle(picture, outlets);
            if (isPast || picture.Recalled.At(Kind, outlets[0].Pedestal))
                yield return Of(picture, slip, outlets, isPast);
        }
    }

    static Finding Of(DockPicture picture, string slip, IReadOnlyList<OutletKey> outlets, bool isPast) => new(
        new Place(picture.Dock.Name, null, outlets[0].Pedestal, outlets[0].Outlet, slip),
        isPast ? 1 : -1,
        Priorities.Of(Consequence.Damage, minutesToRespond: 60),
        Audience.Harbormaster | Audience.Boater,
        () => Describe(slip, outlets[0].Pedestal, outlets.Max(key => ImageOf(picture, key).Outlet.LastDrew)));

    static (PedestalImage Pedestal, OutletImage Outlet) ImageOf(DockPicture picture, OutletKey key)
    {
        var pedestal = picture.Image.Pedestals[key.Pedestal];
        return (pedestal, pedestal.Outlets[key.Outlet]);
    }

    static bool IsBoatIdle(DockPicture picture, IReadOnlyList<OutletKey> outlets)
    {
        for (var at = 0; at < outlets.Count; at++)
            if (ImageOf(picture, outlets[at]) is var (pedestal, outlet) && !IsIdle(picture, pedestal, outlet))
                return false;
        return true;
    }

    static bool IsIdle(DockPicture picture, PedestalImage pedestal, OutletImage outlet)
    {
        if (outlet.BoatPresent != true || !pedestal.IsFresh || outlet.Latest is not { } reading || reading.Closed == false)
            return false;
        foreach (var leg in reading.Amps.Legs)
            if (!(reading.Amps[leg] < picture.Site.Limits.DrawingAmps))
                return false;
        foreach (var leg in outlet.Definition.Legs)
            if (!(pedestal.Latest!.Volts[leg] > picture.Site.Supply.NominalVolts / 2))
                return false;
        return true;
    }

    static Description Describe(string slip, string pedestal, DateTimeOffset? lastDrew) => new(
        [
            Sentence.Of("The boat in slip {0} draws nothing, though pedestal {1} has power.", slip, pedestal),
            Sentence.Of("Its own main breaker may be open or its cord loose: look before its batteries run down."),
        ],
        new JsonObject { ["last-drew"] = lastDrew?.ToString("O") });
}
