using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Risk;

/// <summary>
/// Whether an outlet's last minutes show a motor that hangs on low volts and does not start. A locked rotor takes several times the
/// running amps (7.07 times at nominal volts, 3.9 times at 0.55 of them: WECC motor D parameters as in NREL PyDSS, confirmed) at a power
/// factor near 0.7, until its protector opens after 4 to 20 s; then it tries again. A healthy start is over within one reading.
/// A moment looks stalled on a leg if the volts are below 0.9 of nominal and
///   amps > 1.5 × the outlet's rating, unless the watts show a power factor above 0.9 (a heater), or
///   amps > 3 × the median of what the leg drew in the last minutes while the watts show a power factor below 0.8.
/// The motor is stalled where the last two moments look so, or three separate times in the last minutes did (a protector's retries
/// between readings).
/// </summary>
static class MotorStall
{
    public const double LowVoltsShare = 0.9;
    const double RatingShare = 1.5;
    const double RunningShare = 3;
    const double MotorPowerFactor = 0.8;
    const double HeaterPowerFactor = 0.9;
    const int Retries = 3;

    /// <summary>The first leg on which one is; null: none.</summary>
    public static Leg? LegOf(SiteDefinition site, OutletImage outlet)
    {
        if (outlet.LowestRecentVolts < LowVoltsShare * site.Supply.NominalVolts)
            foreach (var leg in outlet.Definition.Legs)
                if (IsStalled(site, outlet, leg))
                    return leg;
        return null;
    }

    static bool IsStalled(SiteDefinition site, OutletImage outlet, Leg leg)
    {
        var lowVolts = LowVoltsShare * site.Supply.NominalVolts;
        var (begins, inARow) = (0, 0);
        double? runningAmps = null; // seldom asked for, and a sort
        foreach (var moment in outlet.Recent)
        {
            var looks = moment.Volts[leg] < lowVolts
                && (IsBeyondItsRating(outlet.Definition, moment, leg)
                    || (PowerFactor(moment, leg) < MotorPowerFactor
                        && moment.Outlet.Amps[leg] > RunningShare * (runningAmps ??= RunningAmps(site, outlet, leg))));
            begins += looks && inARow == 0 ? 1 : 0;
            inARow = looks ? inARow + 1 : 0;
        }
        return inARow >= 2 || begins >= Retries;
    }

    static bool IsBeyondItsRating(OutletDefinition outlet, OutletMoment moment, Leg leg) =>
        moment.Outlet.Amps[leg] > RatingShare * outlet.RatingAmps && !(PowerFactor(moment, leg) > HeaterPowerFactor);

    /// <summary>No number without watts, and then no comparison holds.</summary>
    static double PowerFactor(OutletMoment moment, Leg leg) => moment.Outlet.Watts[leg] / (moment.Outlet.Amps[leg] * moment.Volts[leg]);

    /// <summary>Median of the amps of those moments in which it drew; no number where it never did.</summary>
    public static double RunningAmps(SiteDefinition site, OutletImage outlet, Leg leg)
    {
        var (drawn, count) = (new double[outlet.Recent.Count], 0);
        foreach (var moment in outlet.Recent)
            if (moment.Outlet.Amps[leg] is var amps && amps >= site.Limits.DrawingAmps)
                drawn[count++] = amps;
        Array.Sort(drawn, 0, count);
        return count == 0 ? double.NaN : drawn[(count - 1) / 2];
    }
}
