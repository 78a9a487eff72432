using System.Text.Json.Nodes;
using Farberth.Grid.Network;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>A motor that hangs on low volts and does not start: <see cref="MotorStall"/> says when that is so.</summary>
sealed class StalledMotor : IAlarmRule
{
    public AlarmKind Kind => AlarmKind.StalledMotor;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        foreach (var pedestal in picture.Image.Pedestals.Values)
            foreach (var outlet in pedestal.Outlets.Values)
            {
                Leg? leg = picture.Stalled.TryGetValue(new(pedestal.Definition.Name, outlet.Definition.Name), out var known) ? known : null;
                if ((leg != null && pedestal.IsFresh) || (outlet.Recent.Count > 0 && picture.Recalled.At(Kind, pedestal.Definition.Name)))
                    yield return Of(picture, pedestal, outlet, leg);
            }
    }

    static Finding Of(DockPicture picture, PedestalImage pedestal, OutletImage outlet, Leg? stalled) => new(
        new Place(picture.Dock.Name, null, pedestal.Definition.Name, outlet.Definition.Name, outlet.Definition.Slip),
        stalled != null && pedestal.IsFresh ? 1 : -1,
        Priorities.Of(Consequence.Damage, minutesToRespond: 5),
        Audience.Everybody,
        () => Describe(picture.Site, pedestal, outlet, stalled ?? outlet.Definition.Legs[0]));

    static Description Describe(SiteDefinition site, PedestalImage pedestal, OutletImage outlet, Leg leg)
    {
        var worst = outlet.Recent.MaxBy(moment => moment.Outlet.Amps[leg])!;
        var (amps, volts) = (worst.Outlet.Amps[leg], worst.Volts[leg]);
        return new(
            [
                Sentence.Of(
                    "A motor on outlet {0} of pedestal {1}, most likely an air conditioner, hums and does not start: {2:0} A at only {3:0} V on {4}.",
                    outlet.Definition.Name, pedestal.Definition.Name, amps, volts, leg),
                Sentence.Of("Switch it off on board now, before it burns, and leave it off until the volts are back."),
            ],
            new JsonObject
            {
                ["leg"] = leg.ToString(),
                ["amps"] = Math.Round(amps, 1),
                ["running-amps"] = MotorStall.RunningAmps(site, outlet, leg) is var running && double.IsFinite(running) ? Math.Round(running, 1) : null,
                ["rating"] = outlet.Definition.RatingAmps,
                ["volts"] = Math.Round(volts, 1),
                ["limit"] = MotorStall.LowVoltsShare * site.Supply.NominalVolts,
            });
    }
}
