using System.Text.Json.Nodes;
using Farberth.Monitoring.Outages;
using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// A pedestal has sent nothing for the raise delay, or its last will says that it is gone; or all of them from one point outwards, which
/// is one alarm and has theirs as its consequences.
/// </summary>
sealed class MeterSilent : IAlarmRule
{
    public AlarmKind Kind => AlarmKind.MeterSilent;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        var patience = picture.Site.AlarmTimings[Kind].RaiseAfter;
        return picture.Outages.Points.Select(point => SilentFeeder(picture, point, patience))
            .Concat(picture.Image.Pedestals.Values.Select(pedestal => new Finding(
                new Place(picture.Dock.Name, Pedestal: pedestal.Definition.Name),
                Margin(pedestal, patience),
                Priorities.Of(Consequence.Knowledge, minutesToRespond: 120),
                Audience.Electrician | Audience.Harbormaster,
                () => Describe(pedestal),
                AtOnce: true)));
    }

    static double Margin(PedestalImage pedestal, TimeSpan patience) => pedestal.Online == false ? 1 : pedestal.SilentFor / patience - 1;

    /// <summary>All pedestals beyond a point fell silent together: more likely the feeder than so many meters.</summary>
    static Finding SilentFeeder(DockPicture picture, string point, TimeSpan patience)
    {
        var outage = picture.Outages.At(point);
        return new(
            OutagePlace.Of(picture.Dock, point),
            outage is { IsSettled: true } ? outage.Pedestals.Max(name => Margin(picture.Image.Pedestals[name], patience)) : -1,
            Priorities.Of(Consequence.Damage, minutesToRespond: 60),
            Audience.Electrician | Audience.Harbormaster,
            () => outage == null ? new("The pedestals are heard again.", []) : new(
                Invariant($"{OutagePlace.Words(picture.Dock, outage.Point)} is silent: all {outage.Pedestals.Count} pedestals stopped together, so the feeder is probably dead there, or their network is. See whether the outlets have power; if they have none, a licensed electrician looks at {OutagePlace.Suspect(picture.Dock, outage.Point)} and at what protects it."),
                OutagePlace.Evidence(outage)),
            AtOnce: true)
        {
            Beyond = point,
            IsPending = outage is { IsSettled: false },
        };
    }

    static Description Describe(PedestalImage pedestal)
    {
        var known = pedestal.Latest == null ? "It has never been heard." : "Its last amps are held; nobody knows its volts.";
        return new(
            Invariant($"Pedestal {pedestal.Definition.Name} has sent nothing for {pedestal.SilentFor.TotalSeconds:0} s. {known}"),
            new JsonObject { ["seconds"] = Math.Round(pedestal.SilentFor.TotalSeconds), ["online"] = pedestal.Online });
    }
}
