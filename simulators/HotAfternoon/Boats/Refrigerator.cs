namespace Farberth.HotAfternoon;

public sealed record RefrigeratorPlan(Feed On, double RatedWatts) : LoadPlan(On)
{
    public override BoatLoad Start(NamedRandom random) => new Refrigerator(this, random);

    internal static RefrigeratorPlan Read(YamlMap map) =>
        new(map.Feed(), map.Positive("power", Quantity.Watts, 150));
}

/// <summary>A box that warms through its walls and a small compressor that cycles.</summary>
/// <remarks>
/// C·dT/dt = UA·(T_air − T) − Q, UA = P_r/100 W/K, Q = 0.9·P_r while it runs, C = 100·P_r·1 s/K; thermostat at 4 ± 1 K.
/// At 25 °C it runs about a quarter of the time, at 37 °C about 40 % (figures assumed; cycles of some minutes are
/// common practice).
/// Constant power at power factor 0.95. [GridLAB-D]
/// </remarks>
public sealed class Refrigerator(RefrigeratorPlan plan, NamedRandom random) : BoatLoad
{
    const double SetCelsius = 4;

    readonly Hysteresis thermostat = new(1, random.Chance(0.3));

    public double Celsius { get; private set; } = SetCelsius + random.Between(-1, 1);

    public override Demand Step(Moment moment)
    {
        var on = thermostat.Step(Celsius - SetCelsius) && moment.Energised;
        var heat = plan.RatedWatts * ((moment.Sky.Celsius - Celsius) / 100 - (on ? 0.9 : 0));
        Celsius += heat * moment.Seconds / (100 * plan.RatedWatts);
        return on ? Demand.Steady(plan.RatedWatts, 0.95) : Demand.None;
    }
}
