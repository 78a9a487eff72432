namespace Farberth.HotAfternoon;

/// <param name="RatedWatts">At nominal volts.</param>
public sealed record WaterHeaterPlan(Feed On, double RatedWatts, double Litres, double SetCelsius)
    : LoadPlan(On)
{
    public override BoatLoad Start(NamedRandom random) => new WaterHeater(this, random);

    internal static WaterHeaterPlan Read(YamlMap map) => new(
        map.Feed(),
        map.Positive("power", Quantity.Watts, 1500),
        map.Positive("tank", Quantity.Litres, 40),
        map.Amount("set", Quantity.Celsius, 60));
}

/// <summary>A resistive element in a tank of water.</summary>
/// <remarks>
/// P = P_r·u² (1,500 W at 120 V is 12.5 A; common practice).
/// m·c·dT/dt = P − UA·(T − T_air), c = 4,186 J/(kg·K), UA = 1.5 W/K (assumed); thermostat at set ± 3 K.
/// Use: q litres are taken and cold water at 24 °C comes in, T → T − (T − 24)·q/m; a draw of 2 to 10 litres falls due
/// at random, 0.8 an hour in the hours of <see cref="HumanHours"/>, while somebody is aboard (assumed).
/// A heater that is switched off at times starts at 30 °C.
/// </remarks>
public sealed class WaterHeater : BoatLoad
{
    const double HalfDeadbandKelvin = 3;
    const double ColdCelsius = 24;
    const double DrawsPerHour = 0.8;

    readonly WaterHeaterPlan plan;
    readonly NamedRandom random;
    readonly Hysteresis thermostat = new(HalfDeadbandKelvin);

    public WaterHeater(WaterHeaterPlan plan, NamedRandom random)
    {
        this.plan = plan;
        this.random = random;
        var apart = random.Between(-HalfDeadbandKelvin, HalfDeadbandKelvin);
        Celsius = plan.On.IsSometimesOff ? 30 : plan.SetCelsius + apart;
    }

    public override bool CanWait => true;

    /// <summary>Of the water.</summary>
    public double Celsius { get; private set; }

    public override Demand Step(Moment moment)
    {
        var draw = random.Chance(DrawsPerHour * HumanHours.Weight(moment.Hour) * moment.Seconds / 3600);
        var litres = random.Between(2, 10);
        if (draw && moment.Aboard)
            Celsius -= (Celsius - ColdCelsius) * Math.Min(1, litres / plan.Litres);
        var on = moment.Energised && thermostat.Step(plan.SetCelsius - Celsius);
        var watts = on ? plan.RatedWatts * moment.Volts * moment.Volts : 0;
        Celsius += (watts - 1.5 * (Celsius - moment.Sky.Celsius)) * moment.Seconds / (plan.Litres * 4186);
        return on ? Demand.Resistive(plan.RatedWatts) : Demand.None;
    }
}
