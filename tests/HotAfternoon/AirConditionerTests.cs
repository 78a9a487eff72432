namespace Farberth.HotAfternoon.Tests;

public class AirConditionerTests
{
    static readonly AirConditionerPlan Plan = new(
        Given.OutletA, 4689, 22, AwayCelsius: null, FanOnly: false, new CabinPlan(130, 940_000, 2000));

    // The thermostat acts once a step and the compressor rests three minutes: the cabin may run a little past the band.
    [Fact]
    public void The_cabin_stays_within_the_deadband_once_it_is_cool()
    {
        var unit = new AirConditioner(Plan, Given.Random());
        Play(unit, Given.Moment(celsius: 32), hours: 4);
        double low = 99, high = 0;
        var starts = 0;
        var before = unit.Compressor;
        for (var second = 0; second < 3 * 3600; second++)
        {
            unit.Step(Given.Moment(celsius: 32));
            (low, high) = (Math.Min(low, unit.CabinCelsius), Math.Max(high, unit.CabinCelsius));
            starts += before == CompressorState.Off && unit.Compressor == CompressorState.Running ? 1 : 0;
            before = unit.Compressor;
        }
        Assert.InRange(low, 21.4, 21.6);
        Assert.InRange(high, 22.4, 22.7);
        Assert.InRange(starts, 3, 20);
    }

    // Common practice: on its fan alone an air conditioner draws far less than with its compressor.
    [Fact]
    public void The_fan_alone_draws_far_less_than_the_compressor()
    {
        double Amps(AirConditionerPlan plan) =>
            Play(new AirConditioner(plan, Given.Random()), Given.Moment(celsius: 38), hours: 0.1).At(1).Magnitude / 120;
        Assert.InRange(Amps(Plan with { FanOnly = true }), 0.2, 0.1 * Amps(Plan));
    }

    [Fact]
    public void On_a_hotter_day_it_runs_more_of_the_time()
    {
        Assert.True(ShareRunning(36) > ShareRunning(30) + 0.1);
    }

    [Fact]
    public void With_nobody_aboard_and_no_away_setting_it_is_off()
    {
        Assert.Equal(Demand.None, Play(new AirConditioner(Plan, Given.Random()), Given.Moment(aboard: false), 0.5));
    }

    [Fact]
    public void Without_supply_it_draws_nothing_and_the_cabin_warms()
    {
        var unit = new AirConditioner(Plan with { AwayCelsius = 22 }, Given.Random());
        var before = unit.CabinCelsius;
        Assert.Equal(Demand.None, Play(unit, Given.Moment(volts: 0), 1));
        Assert.True(unit.CabinCelsius > before + 5);
    }

    static double ShareRunning(double celsius)
    {
        var unit = new AirConditioner(Plan, Given.Random());
        Play(unit, Given.Moment(celsius), hours: 6);
        var running = 0;
        for (var second = 0; second < 6 * 3600; second++)
        {
            unit.Step(Given.Moment(celsius));
            running += unit.Compressor == CompressorState.Running ? 1 : 0;
        }
        return running / (6 * 3600.0);
    }

    static Demand Play(AirConditioner unit, Moment moment, double hours)
    {
        var last = Demand.None;
        for (var second = 0; second < hours * 3600; second++)
            last = unit.Step(moment);
        return last;
    }
}
