namespace Farberth.HotAfternoon.Tests;

public class OtherLoadsTests
{
    // Common practice: a water heater of 1,500 W is about 12.5 A at 120 V.
    [Fact]
    public void A_water_heater_of_1500_watts_draws_12_and_a_half_amps_at_120_volts()
    {
        var heater = new WaterHeater(Heater(sometimesOff: true), Given.Random());
        var demand = heater.Step(Given.Moment(aboard: false));
        Assert.Equal(12.5, demand.At(1).Magnitude / 120, 9);
        Assert.Equal(12.5 * 0.9, demand.At(0.9).Magnitude / (0.9 * 120), 9);
        Assert.Equal(0, demand.At(0.9).Imaginary);
    }

    // Energy: 40 kg · 4,186 J/(kg K) · 33 K = 5.53 MJ at 1,500 W takes 3,684 s; losses of 1.5 W/K add about 2 %.
    [Fact]
    public void Forty_litres_take_about_an_hour_to_heat()
    {
        var heater = new WaterHeater(Heater(sometimesOff: true), Given.Random());
        var seconds = 0;
        while (heater.Step(Given.Moment(celsius: 25, aboard: false)) != Demand.None)
            seconds++;
        Assert.InRange(seconds, 3684, 3684 * 1.04);
    }

    [Fact]
    public void A_tank_that_nobody_uses_stays_within_its_deadband()
    {
        var heater = new WaterHeater(Heater(sometimesOff: false), Given.Random());
        var switched = 0;
        var before = Demand.None;
        for (var minute = 0; minute < 60 * 24 * 3; minute++)
        {
            var demand = heater.Step(Given.Moment(celsius: 25, aboard: false, seconds: 60));
            switched += demand != before ? 1 : 0;
            before = demand;
            Assert.InRange(heater.Celsius, 56.9, 63.6);
        }
        Assert.True(switched >= 4);
    }

    [Fact]
    public void Using_hot_water_calls_the_heater()
    {
        var heater = new WaterHeater(Heater(sometimesOff: false), Given.Random());
        var joules = 0.0;
        for (var minute = 0; minute < 240; minute++)
            joules += 60 * heater.Step(Given.Moment(hour: 17, seconds: 60)).At(1).Real;
        Assert.True(joules > 2e6, $"{joules} J");
    }

    [Fact]
    public void A_charger_takes_constant_power_and_tapers_as_the_battery_fills()
    {
        var charger = new BatteryCharger(new BatteryChargerPlan(Given.OutletA, 1000, 3.6e6, 0.5));
        var bulk = charger.Step(Given.Moment());
        Assert.Equal(1000, bulk.At(1).Real, 9);
        Assert.Equal(bulk.At(1), bulk.At(0.9));
        Assert.Equal(0.95, bulk.At(1).Real / bulk.At(1).Magnitude, 9);
        var last = bulk.At(1).Real;
        for (var minute = 0; minute < 6 * 60; minute++)
        {
            var watts = charger.Step(Given.Moment(seconds: 60)).At(1).Real;
            Assert.True(watts <= last);
            last = watts;
        }
        Assert.InRange(last, 100, 120);
        Assert.InRange(charger.Charge, 0.98, 1);
    }

    [Fact]
    public void Without_shore_power_the_battery_runs_down()
    {
        var charger = new BatteryCharger(new BatteryChargerPlan(Given.OutletA, 1000, 3.6e6, 0.5));
        for (var minute = 0; minute < 60; minute++)
            charger.Step(Given.Moment(seconds: 60, volts: 0));
        Assert.Equal(0.5 - 0.085, charger.Charge, 0.001);
    }

    [Fact]
    public void A_refrigerator_cycles_and_works_harder_in_the_heat()
    {
        Assert.InRange(RefrigeratorShare(25), 0.15, 0.30);
        Assert.InRange(RefrigeratorShare(38), 0.33, 0.50);
    }

    [Fact]
    public void Nobody_cooks_on_an_empty_boat()
    {
        var plan = new GalleyUsePlan(Given.OutletA, 1200, 3, 8);
        Assert.Equal(0, MinutesOn(new GalleyUse(plan, Given.Random()), aboard: false));
        Assert.InRange(MinutesOn(new GalleyUse(plan, Given.Random()), aboard: true), 60, 420);
    }

    [Fact]
    public void Lamps_burn_in_the_evening_most_of_all()
    {
        var house = new HouseUse(new HouseUsePlan(Given.OutletA, 400));
        Assert.Equal(400, house.Step(Given.Moment(hour: 20)).At(1).Real, 9);
        Assert.Equal(200, house.Step(Given.Moment(hour: 12)).At(1).Real, 9);
        Assert.Equal(40, house.Step(Given.Moment(hour: 20, aboard: false)).At(1).Real, 9);
        Assert.Equal(Demand.None, house.Step(Given.Moment(volts: 0)));
    }

    static int MinutesOn(GalleyUse use, bool aboard) => Enumerable.Range(0, 10 * 60)
        .Count(_ => use.Step(Given.Moment(hour: 17, seconds: 60, aboard: aboard)) != Demand.None);

    static double RefrigeratorShare(double celsius)
    {
        var box = new Refrigerator(new RefrigeratorPlan(Given.OutletA, 150), Given.Random());
        var running = 0;
        for (var step = 0; step < 6 * 360; step++)
        {
            running += box.Step(Given.Moment(celsius, seconds: 10)) != Demand.None ? 1 : 0;
            Assert.InRange(box.Celsius, 2.9, 5.1);
        }
        return running / (6 * 360.0);
    }

    static WaterHeaterPlan Heater(bool sometimesOff) =>
        new(Given.OutletA with { WhenAboard = sometimesOff }, 1500, 40, 60);
}
