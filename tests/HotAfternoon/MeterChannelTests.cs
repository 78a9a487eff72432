namespace Farberth.HotAfternoon.Tests;

public class MeterChannelTests
{
    const int Readings = 20_000;

    [Fact]
    public void Noise_has_the_stated_spread_about_the_gain()
    {
        var channel = new MeterChannel(1.004, 0.05, 0, Given.Random());
        double[] volts = [.. Enumerable.Range(0, Readings).Select(_ => channel.Read(118))];
        var mean = volts.Average();
        Assert.Equal(118 * 1.004, mean, 5 * 0.05 / Math.Sqrt(Readings));
        Assert.Equal(0.05, Math.Sqrt(volts.Average(v => (v - mean) * (v - mean))), 0.0015);
    }

    [Fact]
    public void Gain_errors_have_the_stated_spread()
    {
        var plan = new MeterPlan(default, 0.002, 0, 0, default, 0, default, 0, 0, []);
        var random = Given.Random();
        double[] errors = [.. Enumerable.Range(0, Readings).Select(_ => PedestalMeter.Gain(plan, random) - 1)];
        Assert.Equal(0, errors.Average(), 5 * 0.002 / Math.Sqrt(Readings));
        Assert.Equal(0.002, Math.Sqrt(errors.Average(e => e * e)), 0.00006);
    }

    [Fact]
    public void Nothing_drawn_reads_as_nothing_and_no_reading_is_negative()
    {
        var channel = new MeterChannel(1, 0.05, 0.02, Given.Random());
        for (var i = 0; i < 1000; i++)
        {
            Assert.Equal(0, channel.Read(0.01));
            Assert.True(channel.Read(0.03) >= 0);
        }
    }
}
