namespace Farberth.HotAfternoon;

/// <param name="RatedWatts">Drawn while the battery takes all it can get.</param>
/// <param name="BatteryJoules">Energy between empty and full.</param>
/// <param name="Charge">At the start, 0 to 1.</param>
public sealed record BatteryChargerPlan(Feed On, double RatedWatts, double BatteryJoules, double Charge)
    : LoadPlan(On)
{
    public override BoatLoad Start(NamedRandom random) => new BatteryCharger(this);

    internal static BatteryChargerPlan Read(YamlMap map) => new(
        map.Feed(),
        map.Positive("power", Quantity.Watts, 500),
        map.Positive("battery", Quantity.Joules, 3 * 3.6e6),
        map.Amount("charge", Quantity.Share, 0.9));
}

/// <summary>A charger with an electronic front end: constant power, tapering as the battery fills.</summary>
/// <remarks>
/// P = P_r below 80 % of charge, then P = P_f + (P_r − P_f)·(1 − q)/0.2; P_f = 10 % of P_r keeps full and feeds the
/// cabin's direct-current loads (assumed). Of what is above P_f, 85 % reaches the battery: E·dq/dt = 0.85·(P − P_f).
/// Without supply the same P_f·0.85 comes out of the battery. Power factor 0.95. [GridLAB-D, vehicle charger]
/// </remarks>
public sealed class BatteryCharger(BatteryChargerPlan plan) : BoatLoad
{
    const double FloatShare = 0.1;
    const double Efficiency = 0.85;

    /// <summary>0 to 1.</summary>
    public double Charge { get; private set; } = plan.Charge;

    public override Demand Step(Moment moment)
    {
        var floatWatts = FloatShare * plan.RatedWatts;
        var taper = Math.Clamp((1 - Charge) / 0.2, 0, 1);
        var watts = moment.Energised ? floatWatts + (plan.RatedWatts - floatWatts) * taper : 0;
        Charge = Math.Clamp(Charge + Efficiency * (watts - floatWatts) * moment.Seconds / plan.BatteryJoules, 0, 1);
        return Demand.Steady(watts, 0.95);
    }
}
