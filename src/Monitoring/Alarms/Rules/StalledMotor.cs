using System.Text.Json.Nodes;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// A motor that hangs on low volts and does not start. A locked rotor takes several times the running amps (7.07 times at nominal
/// volts, 3.9 times at 0.55 of them: WECC motor D parameters as in NREL PyDSS, confirmed) at a power factor near 0.7, until its protector opens
/// after 4 to 20 s; then it tries again. A healthy start is over within one reading.
/// A moment looks stalled on a leg if the volts are below 0.9 of nominal and
///   amps > 1.5 × the outlet's rating, unless the watts show a power factor above 0.9 (a heater), or
///   amps > 3 × the median of what the leg drew in the last minutes while the watts show a power factor below 0.8.
/// Past the limit: the last two moments look so, or three separate times in the last minutes did (a protector's retries between readings).
/// </summary>
sealed class StalledMotor : IAlarmRule
{
    const double LowVoltsShare = 0.9;
    const double RatingShare = 1.5;
    const double RunningShare = 3;
    const double MotorPowerFactor = 0.8;
    const double HeaterPowerFactor = 0.9;
    const int Retries = 3;

    public AlarmKind Kind => AlarmKind.StalledMotor;

    public IEnumerable<Finding> Judge(DockPicture picture) =>
        from pedestal in picture.Image.Pedestals.Values
        from outlet in pedestal.Outlets.Values
        where outlet.Recent.Count > 0
        let leg = outlet.Definition.Legs.FirstOrDefault(leg => IsStalled(picture.Site, outlet, leg), Leg.N)
        select new Finding(
            new Place(picture.Dock.Name, null, pedestal.Definition.Name, outlet.Definition.Name, outlet.Definition.Slip),
            leg != Leg.N && pedestal.IsFresh ? 1 : -1,
            Priority.High,
            Audience.Everybody,
            () => Describe(picture.Site, pedestal, outlet, leg == Leg.N ? outlet.Definition.Legs[0] : leg));

    static bool IsStalled(SiteDefinition site, OutletImage outlet, Leg leg)
    {
        var (begins, inARow) = (0, 0);
        double? known = null;
        double RunningOnce() => known ??= RunningAmps(site, outlet, leg); // seldom asked for, and a sort
        Func<double> runningAmps = RunningOnce;
        foreach (var moment in outlet.Recent)
        {
            var looks = LooksStalled(site, outlet.Definition, moment, leg, runningAmps);
            begins += looks && inARow == 0 ? 1 : 0;
            inARow = looks ? inARow + 1 : 0;
        }
        return inARow >= 2 || begins >= Retries;
    }

    static bool LooksStalled(SiteDefinition site, OutletDefinition outlet, OutletMoment moment, Leg leg, Func<double> runningAmps)
    {
        var (amps, volts) = (moment.Outlet.Amps[leg], moment.Volts[leg]);
        if (!(volts < LowVoltsShare * site.Supply.NominalVolts))
            return false;
        var powerFactor = moment.Outlet.Watts[leg] / (amps * volts); // no number without watts, and then neither comparison holds
        return (amps > RatingShare * outlet.RatingAmps && !(powerFactor > HeaterPowerFactor))
            || (powerFactor < MotorPowerFactor && amps > RunningShare * runningAmps());
    }

    /// <summary>Median of the amps of those moments in which it drew; no number where it never did.</summary>
    static double RunningAmps(SiteDefinition site, OutletImage outlet, Leg leg)
    {
        var drawn = outlet.Recent.Select(moment => moment.Outlet.Amps[leg])
            .Where(amps => amps >= site.Limits.DrawingAmps).Order().ToList();
        return drawn.Count == 0 ? double.NaN : drawn[(drawn.Count - 1) / 2];
    }

    static Description Describe(SiteDefinition site, PedestalImage pedestal, OutletImage outlet, Leg leg)
    {
        var worst = outlet.Recent.MaxBy(moment => moment.Outlet.Amps[leg])!;
        var (amps, volts) = (worst.Outlet.Amps[leg], worst.Volts[leg]);
        return new(
            Invariant($"A motor on outlet {outlet.Definition.Name} of pedestal {pedestal.Definition.Name}, most likely an air conditioner, hums and does not start: {amps:0} A at only {volts:0} V on {leg}. Switch it off on board now, before it burns, and leave it off until the volts are back."),
            new JsonObject
            {
                ["leg"] = leg.ToString(),
                ["amps"] = Math.Round(amps, 1),
                ["running-amps"] = RunningAmps(site, outlet, leg) is var running && double.IsFinite(running) ? Math.Round(running, 1) : null,
                ["rating"] = outlet.Definition.RatingAmps,
                ["volts"] = Math.Round(volts, 1),
                ["limit"] = LowVoltsShare * site.Supply.NominalVolts,
            });
    }
}
