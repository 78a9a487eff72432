namespace Farberth.HotAfternoon;

/// <param name="CapacityWatts">Cooling at 35 °C outdoors.</param>
/// <param name="SetCelsius">Thermostat while somebody is aboard.</param>
/// <param name="AwayCelsius">Thermostat while nobody is; null: switched off.</param>
/// <param name="FanOnly">The compressor is switched off at the panel.</param>
public sealed record AirConditionerPlan(
    Feed On, double CapacityWatts, double SetCelsius, double? AwayCelsius, bool FanOnly, CabinPlan Cabin)
    : LoadPlan(On)
{
    public override BoatLoad Start(NamedRandom random) => new AirConditioner(this, random);

    internal static AirConditionerPlan Read(YamlMap map)
    {
        var capacity = map.Positive("capacity", Quantity.Watts);
        return new AirConditionerPlan(
            map.Feed(),
            capacity,
            map.Amount("set", Quantity.Celsius, 22.5),
            map.Has("away") ? map.Amount("away", Quantity.Celsius) : null,
            map.Choice("runs", "cooling", "fan") == "fan",
            new CabinPlan(
                map.Positive("loss", Quantity.WattsPerKelvin, capacity / 32),
                map.Positive("heat-capacity", Quantity.JoulesPerKelvin, capacity * 200),
                map.Amount("solar", Quantity.Watts, capacity * 0.5)));
    }
}

/// <summary>An air conditioner with the cabin it cools.</summary>
/// <remarks>
/// Thermostat: calls above set + 0.5 K, rests below set − 0.5 K.
/// Fan: 4 % of the compressor's watts at 35 °C (about half an amp; far less than the compressor, common practice),
/// on whenever the unit is; I 0.7332, Z 0.2534, P 0.0134 at power factor 0.96. [GridLAB-D; its sum rounded to 1]
/// </remarks>
public sealed class AirConditioner : BoatLoad
{
    const double HalfDeadbandKelvin = 0.5;
    const double FanShare = 0.04;

    readonly AirConditionerPlan plan;
    readonly Compressor compressor;
    readonly Cabin cabin;
    readonly Hysteresis thermostat;

    public AirConditioner(AirConditionerPlan plan, NamedRandom random)
    {
        this.plan = plan;
        compressor = new Compressor(plan.CapacityWatts);
        cabin = new Cabin(plan.Cabin, (plan.AwayCelsius ?? plan.SetCelsius + 9) + random.Between(-0.5, 0.5));
        thermostat = new Hysteresis(HalfDeadbandKelvin, random.Chance(0.5));
    }

    public override bool CanWait => true;

    public double CabinCelsius => cabin.Celsius;

    public CompressorState Compressor => compressor.State;

    public override Demand Step(Moment moment)
    {
        var set = moment.Aboard ? plan.SetCelsius : plan.AwayCelsius;
        var on = set is not null && moment.Energised;
        var calls = thermostat.Step(cabin.Celsius - (set ?? double.PositiveInfinity));
        var demand = compressor.Step(moment, on && calls && !plan.FanOnly);
        cabin.Step(moment, compressor.CoolingWatts(moment.Sky.Celsius));
        return on ? demand + Fan() : demand;
    }

    Demand Fan()
    {
        var s = Demand.Lagging(FanShare * plan.CapacityWatts / 3.5, 0.96);
        return new Demand(0.2534 * s, 0.7332 * s, 0.0134 * s);
    }
}
