using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Advice;

/// <summary>
/// One outlet carries what two are there for: it is past its own limit, the slip has another of its kind with nothing on it, and what is
/// moved there passes no other limit of the dock.
/// </summary>
sealed class SecondCordMove(DockPicture picture, DockModel model, ShedPlanner planner, IReadOnlyList<Limit> limits)
{
    /// <returns>What moves, from and to; null where it does not help.</returns>
    public (AskedLeg From, AskedLeg To)? Of(Limit limit, double[] coming)
    {
        if (limit.Outlet is not { Slip: not null } full || full.Outlet.Legs.Count > 1)
            return null;
        var limitAmps = full.Amps / (1 + limit.Now);
        var deadband = picture.Site.AlarmTimings[limit.Kind].Deadband;
        var amps = Math.Max(ShedPlanner.LeastAmps, RoundedUp(full.Amps - limitAmps * (1 - deadband)));
        foreach (var idle in model.Levers.Where(other => IsSpare(full, other)))
            if (amps <= limitAmps && DoesNoHarm(full, idle, amps, coming))
                return (new(full.Key, full.Leg, amps, full.Amps), new(idle.Key, idle.Leg, -amps, idle.Amps));
        return null;
    }

    bool IsSpare(Lever full, Lever other) => SecondCord.IsSpare(full.Outlet, other.Outlet) && IsIdle(picture.Image.Pedestals[other.Pedestal], other.Outlet.Name);

    bool IsIdle(PedestalImage pedestal, string outlet) => pedestal.IsFresh && pedestal.Outlets[outlet].Recent
        .All(moment => moment.Outlet.Amps.Legs.All(leg => moment.Outlet.Amps[leg] < picture.Site.Limits.DrawingAmps));

    bool DoesNoHarm(Lever full, Lever idle, double amps, double[] coming)
    {
        double[] moved = [.. model.Levers.Select((lever, at) => coming[at] + (lever == full ? amps : lever == idle ? -amps : 0))];
        var (before, after) = (planner.Margins(coming), planner.Margins(moved));
        return Enumerable.Range(0, limits.Count).All(at => after[at] <= Math.Max(-planner.Deadband(at), before[at] + 1e-6));
    }

    static double RoundedUp(double amps) => Math.Ceiling(amps / ShedPlanner.StepAmps) * ShedPlanner.StepAmps;
}
