using System.Text.Json.Nodes;
using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// Current leaks out of an outlet's conductors, or out of all outlets of a dock together, and may come back through the water.
/// Leakage currents have phases of their own, so their magnitudes add up to the most that the feeder can lose, not to what it does:
/// the feeder's finding says "up to". A pedestal that falls silent raises nothing and clears nothing: its last word stands.
/// </summary>
sealed class Leakage : IAlarmRule
{
    const string Caution = "It can electrocute a swimmer: keep everybody out of the water near the dock and do not reach in; to help somebody, switch off the dock first. Switch it off";

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
                () => Invariant($"The outlets of dock {picture.Dock.Name} leak up to {sum:0} mA together, most at {Most(known)}. {Caution}, worst outlet first, and call a licensed electrician."));
    }

    static Finding Of(DockPicture picture, PedestalImage pedestal, OutletDefinition outlet, double milliamps) => Of(
        new Place(picture.Dock.Name, null, pedestal.Definition.Name, outlet.Name, outlet.Slip),
        milliamps, picture.Site.Limits.Leakage.OutletMilliamps, pedestal.IsFresh,
        () => Invariant($"Outlet {outlet.Name} of pedestal {pedestal.Definition.Name} leaks {milliamps:0} mA. {Caution} at the pedestal; the boat stays off until a licensed electrician has found the cause."));

    static string Most(IEnumerable<(PedestalImage Pedestal, OutletImage Outlet, double Milliamps)> known)
    {
        var most = known.MaxBy(one => one.Milliamps);
        return $"{most.Pedestal.Definition.Name}.{most.Outlet.Definition.Name}";
    }

    static Finding Of(Place place, double milliamps, double limitMilliamps, bool isFresh, Func<string> message) => new(
        place,
        isFresh ? milliamps / limitMilliamps - 1 : 0,
        Priorities.Of(Consequence.Danger, minutesToRespond: 1),
        Audience.Everybody,
        () => new(message(), new JsonObject { ["milliamps"] = Math.Round(milliamps, 1), ["limit"] = limitMilliamps }));
}
