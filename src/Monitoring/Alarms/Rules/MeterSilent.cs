using System.Text.Json.Nodes;
using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>A pedestal has sent nothing for the raise delay, or its last will says that it is gone.</summary>
sealed class MeterSilent : IAlarmRule
{
    public AlarmKind Kind => AlarmKind.MeterSilent;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        var patience = picture.Site.AlarmTimings[Kind].RaiseAfter;
        foreach (var pedestal in picture.Image.Pedestals.Values)
            if (Margin(pedestal, patience) is var margin && (margin > 0 || picture.Recalled.At(Kind, pedestal.Definition.Name)))
                yield return Of(picture, pedestal, margin);
    }

    static Finding Of(DockPicture picture, PedestalImage pedestal, double margin) => new(
        new Place(picture.Dock.Name, Pedestal: pedestal.Definition.Name),
        margin,
        Priorities.Of(Consequence.Knowledge, minutesToRespond: 120),
        Audience.Electrician | Audience.Harbormaster,
        () => Describe(pedestal),
        AtOnce: true);

    /// <param name="patience">How long a pedestal may be silent.</param>
    public static double Margin(PedestalImage pedestal, TimeSpan patience) =>
        pedestal.Online == false ? 1 : pedestal.WaitedFor / patience - 1;

    static Description Describe(PedestalImage pedestal)
    {
        var known = pedestal.Latest == null ? "It has never been heard." : "Its last amps are held; nobody knows its volts.";
        return new(
            Invariant($"Pedestal {pedestal.Definition.Name} has sent nothing for {pedestal.WaitedFor.TotalSeconds:0} s. {known}"),
            new JsonObject { ["seconds"] = Math.Round(pedestal.WaitedFor.TotalSeconds), ["online"] = pedestal.Online });
    }
}
