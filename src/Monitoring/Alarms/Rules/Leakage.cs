using System.Text.Json.Nodes;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// Current leaks out of an outlet's conductors, or out of all outlets of a dock together, and may come back through the water.
/// Leakage currents have phases of their own, so their magnitudes add up to the most that the feeder can lose, not to what it does:
/// the feeder's finding says "up to". A pedestal that falls silent raises nothing and clears nothing: its last word stands.
/// </summary>
sealed class Leakage : IAlarmRule
{
    static readonly Sentence Caution = Sentence.Of("It can electrocute a swimmer: keep everybody out of the water near the dock and do not reach in; to help somebody, switch off the dock first.");

    public AlarmKind Kind => AlarmKind.Leakage;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        var limits = picture.Site.Limits.Leakage;
        var known = new List<(PedestalImage Pedestal, OutletImage Outlet, double Milliamps)>();
        foreach (var pedestal in picture.Image.Pedestals.Values)
            foreach (var outlet in pedestal.Outlets.Values)
                if (outlet.Latest?.LeakageMilliamps is { } milliamps)
                    known.Add((pedestal, outlet, milliamps));
        foreach (var (pedestal, outlet, milliamps) in known)
            if (milliamps > limits.OutletMilliamps || picture.Recalled.At(Kind, pedestal.Definition.Name))
                yield return Of(picture, pedestal, outlet.Definition, milliamps);
        var sum = known.Sum(one => one.Milliamps);
        if (known.Count > 0)
            yield return Of(
                new Place(picture.Dock.Name), sum, limits.FeederMilliamps, known.Any(one => one.Pedestal.IsFresh),
                () => known.MaxBy(one => one.Milliamps) is var most ?
                [
                    Sentence.Of("The outlets of dock {0} leak up to {1:0} mA together, most at outlet {2} of pedestal {3}.", picture.Dock.Name, sum, most.Outlet.Definition.Name, most.Pedestal.Definition.Name),
                    Caution,
                    Sentence.Of("Switch it off, worst outlet first, and call a licensed electrician."),
                ] : []);
    }

    static Finding Of(DockPicture picture, PedestalImage pedestal, OutletDefinition outlet, double milliamps) => Of(
        new Place(picture.Dock.Name, null, pedestal.Definition.Name, outlet.Name, outlet.Slip),
        milliamps, picture.Site.Limits.Leakage.OutletMilliamps, pedestal.IsFresh,
        () =>
        [
            Sentence.Of("Outlet {0} of pedestal {1} leaks {2:0} mA.", outlet.Name, pedestal.Definition.Name, milliamps),
            Caution,
            Sentence.Of("Switch it off at the pedestal; the boat stays off until a licensed electrician has found the cause."),
        ]);

    static Finding Of(Place place, double milliamps, double limitMilliamps, bool isFresh, Func<IReadOnlyList<Sentence>> said) => new(
        place,
        isFresh ? milliamps / limitMilliamps - 1 : 0,
        Priorities.Of(Consequence.Danger, minutesToRespond: 1),
        Audience.Everybody,
        () => new(said(), new JsonObject { ["milliamps"] = Math.Round(milliamps, 1), ["limit"] = limitMilliamps }));
}
