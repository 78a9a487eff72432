using System.Text.Json.Nodes;
using Farberth.Grid.Estimation;
using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>A pedestal's volts do not fit what all the others read: the estimate leaves them out.</summary>
sealed class MeterDoubtful : IAlarmRule
{
    public AlarmKind Kind => AlarmKind.MeterDoubtful;

    public IEnumerable<Finding> Judge(DockPicture picture) =>
        from pedestal in picture.Dock.Pedestals.Values
        let doubtful = picture.Estimate.Doubtful.Where(reading => reading.Bus == pedestal.Name).ToList()
        select new Finding(
            new Place(picture.Dock.Name, Pedestal: pedestal.Name),
            doubtful.Count > 0 ? 1 : -1,
            Priority.Low,
            Audience.Electrician | Audience.Harbormaster,
            () => Describe(pedestal, picture, doubtful));

    static Description Describe(PedestalDefinition pedestal, DockPicture picture, List<DoubtfulReading> doubtful)
    {
        if (doubtful.MaxBy(reading => Math.Abs(reading.Residual)) is not { } worst)
            return new(Invariant($"The meter of pedestal {pedestal.Name} fits the others again."), []);
        var read = picture.Image.Pedestals[pedestal.Name].Latest!.Volts[worst.Leg];
        var estimate = picture.Estimate.Pedestals[pedestal.Name];
        return new(
            Invariant($"Pedestal {pedestal.Name} reads {read:0.0} V on {worst.Leg}; by all the other meters it is {estimate.Volts[worst.Leg]:0.0} V. ")
                + "Its volts are left out. Check the meter and its connections, and the site file's cables at this pedestal.",
            new JsonObject
            {
                ["leg"] = worst.Leg.ToString(),
                ["volts"] = Math.Round(read, 2),
                ["estimated"] = Math.Round(estimate.Volts[worst.Leg], 2),
                ["estimated-sd"] = Math.Round(estimate.VoltsSd[worst.Leg], 3),
            });
    }
}
