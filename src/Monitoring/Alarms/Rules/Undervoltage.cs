using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>A pedestal's volts have fallen out of band A, or of band B.</summary>
sealed class Undervoltage : IAlarmRule
{
    public AlarmKind Kind => AlarmKind.Undervoltage;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        var bands = picture.Site.Limits.Volts;
        foreach (var pedestal in picture.Image.Pedestals.Values)
        {
            var lowest = VoltageAtPedestal.Furthest(picture, pedestal, 1);
            var margin = 1 - lowest.Volts / bands.LowA;
            if (margin > 0 || picture.Recalled.At(Kind, pedestal.Definition.Name))
                yield return Of(picture, lowest, margin, isBelowB: lowest.Volts < bands.LowB);
        }
    }

    static Finding Of(DockPicture picture, VoltageAtPedestal lowest, double margin, bool isBelowB)
    {
        var limit = isBelowB ? picture.Site.Limits.Volts.LowB : picture.Site.Limits.Volts.LowA;
        return lowest.Judge(picture, margin, isBelowB, v =>
        [
            Sentence.Of("Pedestal {0} has {1:0.0} V on {2}; it should have at least {3:0} V.", v.Pedestal.Name, v.Volts, v.Leg, limit),
            Sentence.Of("Motors draw more amps as the volts fall: switch off air conditioning on that leg before it stalls."),
        ], limit);
    }
}
