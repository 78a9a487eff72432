using System.Text.Json.Nodes;
using Farberth.Grid.Estimation;
using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// A pedestal's volts do not fit what all the others read, and the estimate leaves them out; or they are off by a steady share, beyond
/// the meter's class, and the estimate corrects them. Where all meters together fit no state of the dock, the dock is named.
/// </summary>
sealed class MeterDoubtful : IAlarmRule
{
    public AlarmKind Kind => AlarmKind.MeterDoubtful;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        var beyond = picture.Learned.BeyondClass;
        foreach (var pedestal in picture.Dock.Pedestals.Values)
            if (picture.Estimate.Doubtful.Count > 0 || beyond.Count > 0 || picture.Recalled.At(Kind, pedestal.Name))
                yield return Judge(picture, pedestal, beyond);
        yield return new Finding(
            new Place(picture.Dock.Name),
            picture.Estimate.Fit.Widening > 1 ? 1 : -1,
            Priorities.Of(Consequence.Knowledge, minutesToRespond: 24 * 60),
            Audience.Electrician | Audience.Harbormaster,
            () => DescribeFit(picture));
    }

    static Description DescribeFit(DockPicture picture)
    {
        var (dock, fit) = (picture.Dock.Name, picture.Estimate.Fit);
        if (fit.Widening <= 1)
            return new([Sentence.Of("The meters of dock {0} fit together again.", dock)], []);
        return new(
            [
                Sentence.Of("The meters of dock {0} together fit no state of the dock that the site file describes: its volts are {1:0.0} times as unsure as usual.", dock, fit.Widening),
                Sentence.Of("Check the site file's cables and legs against the dock, then the meters and the neutral."),
            ],
            new JsonObject
            {
                ["chi-square"] = Math.Round(fit.SquaredResiduals, 1),
                ["degrees"] = fit.Degrees,
                ["chance"] = Math.Round(fit.Chance, 6),
            });
    }

    static Finding Judge(DockPicture picture, PedestalDefinition pedestal, IReadOnlyDictionary<MeterKey, LearnedGain> beyond)
    {
        var doubtful = picture.Estimate.Doubtful.Where(reading => reading.Bus == pedestal.Name).MaxBy(reading => Math.Abs(reading.Residual));
        var gain = Worst(beyond, pedestal.Name);
        return new Finding(
            new Place(picture.Dock.Name, Pedestal: pedestal.Name),
            doubtful != null || gain != null ? 1 : -1,
            Priorities.Of(Consequence.Knowledge, minutesToRespond: 24 * 60),
            Audience.Electrician | Audience.Harbormaster,
            () => Describe(pedestal, picture, doubtful, gain));
    }

    static (Leg Leg, LearnedGain Gain)? Worst(IReadOnlyDictionary<MeterKey, LearnedGain> beyond, string pedestal) => beyond
        .Where(one => one.Key.Pedestal == pedestal)
        .OrderByDescending(one => Math.Abs(one.Value.Share))
        .Select(one => ((Leg, LearnedGain)?)(one.Key.Leg, one.Value))
        .FirstOrDefault();

    static Description Describe(PedestalDefinition pedestal, DockPicture picture, DoubtfulReading? doubtful, (Leg Leg, LearnedGain Gain)? gain)
    {
        if (doubtful != null)
            return Describe(pedestal, picture, doubtful);
        if (gain is not var (leg, learned))
            return new([Sentence.Of("The meter of pedestal {0} fits the others again.", pedestal.Name)], []);
        return new(
            [
                learned.Share > 0
                    ? Sentence.Of("The meter of pedestal {0} shows {1:0.0} % too much on {2}, ± {3:0.0} %, by all the other meters.", pedestal.Name, 100 * learned.Share, leg, 200 * learned.Sd)
                    : Sentence.Of("The meter of pedestal {0} shows {1:0.0} % too little on {2}, ± {3:0.0} %, by all the other meters.", pedestal.Name, -100 * learned.Share, leg, 200 * learned.Sd),
                Sentence.Of("Its volts are corrected."),
                Sentence.Of("Have the meter and its connections checked."),
            ],
            new JsonObject
            {
                ["leg"] = leg.ToString(),
                ["gain"] = Math.Round(learned.Share, 5),
                ["gain-sd"] = Math.Round(learned.Sd, 5),
            });
    }

    static Description Describe(PedestalDefinition pedestal, DockPicture picture, DoubtfulReading worst)
    {
        var read = picture.Image.Pedestals[pedestal.Name].Latest!.Volts[worst.Leg];
        var estimate = picture.Estimate.Pedestals[pedestal.Name];
        return new(
            [
                Sentence.Of("Pedestal {0} reads {1:0.0} V on {2}; by all the other meters it is {3:0.0} V.", pedestal.Name, read, worst.Leg, estimate.Volts[worst.Leg]),
                Sentence.Of("Its volts are left out."),
                Sentence.Of("Check the meter and its connections, and the site file's cables at this pedestal."),
            ],
            new JsonObject
            {
                ["leg"] = worst.Leg.ToString(),
                ["volts"] = Math.Round(read, 2),
                ["estimated"] = Math.Round(estimate.Volts[worst.Leg], 2),
                ["estimated-sd"] = Math.Round(estimate.VoltsSd[worst.Leg], 3),
            });
    }
}
