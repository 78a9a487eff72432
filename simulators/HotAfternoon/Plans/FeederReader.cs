namespace Farberth.HotAfternoon;

/// <summary>Reads the weather, the feeder's hidden truth and the breakers.</summary>
static class FeederReader
{
    public static WeatherPlan Weather(YamlMap map)
    {
        var plan = new WeatherPlan(
            map.Amount("low", Quantity.Celsius, 18),
            map.Amount("high", Quantity.Celsius, 28),
            map.Clock("hottest-at", new TimeOnly(16, 0)),
            map.Amount("dew-point", Quantity.Celsius, 16),
            map.Clock("sunrise", new TimeOnly(5, 50)),
            map.Clock("sunset", new TimeOnly(20, 20)),
            map.Share("clouds", 0),
            map.Duration("every", 900),
            map.Amount("forecast-error", Quantity.Kelvin, 0.7));
        if (plan.Sunset <= plan.Sunrise)
            map.Complain(map.Place, "'sunset' must be later than 'sunrise'.");
        map.Close();
        return plan;
    }

    public static FeederPlan Feeder(YamlMap map)
    {
        var plan = new FeederPlan(
            map.Share("length-error", 0),
            map.Amount("joint", Quantity.Ohms, 0),
            map.Amount("sun-rise", Quantity.Kelvin, 10),
            [.. map.Maps("joints").Select(Joint)],
            [.. map.Maps("neutral-faults").Select(NeutralFault)])
        {
            ContactWear = map.Share("contact-wear", 0),
            SupplySagVolts = map.Amount("supply-sag", Quantity.Volts, 0),
        };
        map.Close();
        return plan;
    }

    static NeutralFaultPlan NeutralFault(YamlMap map)
    {
        var isOpen = map.Choice("open", "no", "yes") == "yes";
        if (isOpen && map.Has("resistance"))
            map.Complain(map.PlaceOfKey("resistance"), "a neutral is open or has a 'resistance', not both.");
        var plan = new NeutralFaultPlan(
            map.Text("cable"),
            isOpen ? NeutralFaultPlan.OpenOhms : map.Positive("resistance", Quantity.Ohms),
            map.MaybeMoment("from"),
            map.Place);
        map.Close();
        return plan;
    }

    public static BreakerPlan Breaker(YamlMap map)
    {
        var plan = new BreakerPlan(
            map.Outlet(),
            map.Has("holds") ? map.Amount("holds", Quantity.Share) : null,
            map.MaybeMoment("reset"),
            map.Place);
        map.Close();
        return plan;
    }

    public static ContactPlan Contacts(YamlMap map)
    {
        var plan = new ContactPlan(
            map.Outlet(),
            map.Positive("wear", Quantity.Share, 1),
            map.Amount("limit", Quantity.Celsius, ContactPlan.UsualLimitCelsius),
            map.Place);
        map.Close();
        return plan;
    }

    static JointPlan Joint(YamlMap map)
    {
        var plan = new JointPlan(
            map.Text("cable"), map.Conductor("conductor"), map.Positive("resistance", Quantity.Ohms), map.Place);
        map.Close();
        return plan;
    }
}
