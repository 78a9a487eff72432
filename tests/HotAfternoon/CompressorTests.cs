namespace Farberth.HotAfternoon.Tests;

public class CompressorTests
{
    const double Capacity = 4689; // 16,000 Btu/h

    // Products of the capacity and power-per-cooling curves of the GridLAB-D house model at 75, 85, 95, 105, 115 °F:
    // electrical per unit of cooling 0.787, 0.893, 1.000, 1.107, 1.213.
    [Theory]
    [InlineData(75, 0.787)]
    [InlineData(85, 0.893)]
    [InlineData(95, 1.000)]
    [InlineData(105, 1.107)]
    [InlineData(115, 1.213)]
    public void Watts_for_the_same_cooling_follow_the_published_curve(double fahrenheit, double expected)
    {
        var celsius = (fahrenheit - 32) / 1.8;
        var compressor = Started(celsius);
        var perCooling = compressor.RunningWatts(celsius) / compressor.CoolingWatts(celsius);
        Assert.Equal(expected / 3.5, perCooling, 0.0005);
    }

    [Fact]
    public void Watts_rise_with_the_heat_outdoors()
    {
        var compressor = new Compressor(Capacity);
        for (var celsius = 15; celsius < 45; celsius++)
            Assert.True(compressor.RunningWatts(celsius + 1) > compressor.RunningWatts(celsius));
    }

    // 20 % constant impedance and 80 % constant power (GridLAB-D): amps at 0.9 of nominal are 0.2·0.9 + 0.8/0.9 = 1.069.
    [Fact]
    public void Amps_rise_as_volts_fall()
    {
        var running = Run(Started(35), volts: 1, seconds: 5);
        double Amps(double u) => running.At(u).Magnitude / u;
        Assert.Equal(1.069, Amps(0.9) / Amps(1), 0.0005);
        for (var u = 1.05; u > 0.75; u -= 0.01)
            Assert.True(Amps(u - 0.01) > Amps(u));
    }

    // WECC motor D as in NREL PyDSS: stall at 0.55, r = x = 0.1 on rated VA: 5 P + 5 Q, 7.07 × rated amps.
    [Fact]
    public void Below_its_stall_volts_it_stands_still_on_locked_rotor_amps()
    {
        var compressor = Started(35);
        var rated = Run(compressor, volts: 1, seconds: 5).At(1).Magnitude;
        var held = Run(compressor, volts: 0.56, seconds: 5);
        Assert.Equal(CompressorState.Running, compressor.State);
        Assert.True(held.At(1).Magnitude < 1.1 * rated);
        var stalled = compressor.Step(Given.Moment(volts: 0.54), wanted: true);
        Assert.Equal(CompressorState.Stalled, compressor.State);
        Assert.Equal(7.071, stalled.At(1).Magnitude / rated, 0.001);
        Assert.Equal(5, stalled.At(1).Real / rated, 0.001);
        Assert.Equal(0, compressor.CoolingWatts(35));
    }

    [Fact]
    public void A_stalled_motor_stays_stalled_when_the_volts_return_then_cuts_out_and_tries_again()
    {
        var compressor = Started(35);
        compressor.Step(Given.Moment(volts: 0.5), wanted: true);
        Run(compressor, volts: 1, seconds: 3);
        Assert.Equal(CompressorState.Stalled, compressor.State);
        Assert.Equal(Demand.None, Run(compressor, volts: 1, seconds: 1));
        Assert.Equal(CompressorState.CutOut, compressor.State);
        Run(compressor, volts: 1, seconds: 118);
        Assert.Equal(CompressorState.CutOut, compressor.State);
        Run(compressor, volts: 1, seconds: 3);
        Assert.Equal(CompressorState.Running, compressor.State);
    }

    [Fact]
    public void It_does_not_come_up_on_less_than_80_percent_of_its_volts()
    {
        var compressor = new Compressor(Capacity);
        compressor.Step(Given.Moment(volts: 0.79), wanted: true);
        Assert.Equal(CompressorState.Stalled, compressor.State);
    }

    [Fact]
    public void The_start_is_over_within_the_step_and_far_above_the_running_amps()
    {
        var compressor = new Compressor(Capacity);
        var start = compressor.Step(Given.Moment(), wanted: true).At(1).Magnitude;
        var running = compressor.Step(Given.Moment(), wanted: true).At(1).Magnitude;
        Assert.InRange(start / running, 3, 5);
    }

    [Fact]
    public void It_rests_three_minutes_between_runs()
    {
        var compressor = Started(35);
        compressor.Step(Given.Moment(), wanted: false);
        Run(compressor, volts: 1, seconds: 178);
        Assert.Equal(CompressorState.Off, compressor.State);
        Run(compressor, volts: 1, seconds: 3);
        Assert.Equal(CompressorState.Running, compressor.State);
    }

    static Compressor Started(double celsius)
    {
        var compressor = new Compressor(Capacity);
        compressor.Step(Given.Moment(celsius), wanted: true);
        Assert.Equal(CompressorState.Running, compressor.State);
        return compressor;
    }

    static Demand Run(Compressor compressor, double volts, int seconds)
    {
        var last = Demand.None;
        for (var second = 0; second < seconds; second++)
            last = compressor.Step(Given.Moment(volts: volts), wanted: true);
        return last;
    }
}
