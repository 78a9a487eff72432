namespace Farberth.HotAfternoon;

public sealed record HouseUsePlan(Feed On, double RatedWatts) : LoadPlan(On)
{
    public override BoatLoad Start(NamedRandom random) => new HouseUse(this);

    internal static HouseUsePlan Read(YamlMap map) => new(map.Feed(), map.Positive("power", Quantity.Watts, 250));
}

/// <summary>Lamps, screens and small chargers.</summary>
/// <remarks>
/// Constant power at power factor 0.90 [GridLAB-D plug load]: the whole from 18 to 24 h, half by day while somebody is
/// aboard, a tenth otherwise (invented figures).
/// </remarks>
public sealed class HouseUse(HouseUsePlan plan) : BoatLoad
{
    public override Demand Step(Moment moment)
    {
        var share = !moment.Aboard ? 0.1 : moment.Hour >= 18 ? 1 : 0.5;
        return moment.Energised ? Demand.Steady(plan.RatedWatts * share, 0.90) : Demand.None;
    }
}
