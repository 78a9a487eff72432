using System.Text.Json.Nodes;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;

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
        var seconds = Math.Round(pedestal.WaitedFor.TotalSeconds);
        return new(
            [
                Sentence.Of("Pedestal {0} has sent nothing for {1:0} s.", pedestal.Definition.Name, seconds),
                pedestal.Latest == null ? Sentence.Of("It has never been heard.") : Sentence.Of("Its last amps are held; nobody knows its volts."),
            ],
            new JsonObject { ["seconds"] = seconds, ["online"] = pedestal.Online });
    }
}
