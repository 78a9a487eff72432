using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>A pedestal's volts have risen out of band A, or of band B.</summary>
sealed class Overvoltage : IAlarmRule
{
    public AlarmKind Kind => AlarmKind.Overvoltage;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        var bands = picture.Site.Limits.Volts;
        foreach (var pedestal in picture.Image.Pedestals.Values)
        {
            var highest = VoltageAtPedestal.Furthest(picture, pedestal, -1);
            var margin = highest.Volts / bands.HighA - 1;
            if (margin > 0 || picture.Recalled.At(Kind, pedestal.Definition.Name))
                yield return Of(picture, highest, margin, isAboveB: highest.Volts > bands.HighB);
        }
    }

    static Finding Of(DockPicture picture, VoltageAtPedestal highest, double margin, bool isAboveB)
    {
        var limit = isAboveB ? picture.Site.Limits.Volts.HighB : picture.Site.Limits.Volts.HighA;
        return highest.Judge(picture, margin, isAboveB, v =>
        [
            Sentence.Of("Pedestal {0} has {1:0.0} V on {2}; it should have at most {3:0} V.", v.Pedestal.Name, v.Volts, v.Leg, limit),
            Sentence.Of("If another leg is low at the same time, the neutral may be failing: call a licensed electrician."),
        ], limit);
    }
}
