using Farberth.Monitoring.Learning;

namespace Farberth.Monitoring.Tests.Learning;

public class GainFitTests
{
    /// <summary>Over 200 meters: what each reads is off by its gain, by what its others are off by, and by noise.</summary>
    [Fact]
    public void A_gain_is_learned_within_hours_and_its_standard_deviation_is_honest()
    {
        var random = new Random(5);
        var (held, off) = (0, 0.0);
        for (var meter = 0; meter < 200; meter++)
        {
            var gain = 0.015 * (2 * random.NextDouble() - 1);
            var found = Learned(random, _ => gain, hours: 6, othersSd: 0.001);
            held += Math.Abs(found.Share - gain) < 1.96 * found.Sd ? 1 : 0;
            off = Math.Max(off, Math.Abs(found.Share - gain));
        }
        Assert.InRange(held, 180, 200);
        Assert.InRange(off, 0, 0.005);
    }

    [Fact]
    public void A_meter_that_drifts_is_followed()
    {
        var found = Learned(new Random(1), hour => hour < 6 ? 0 : 0.015, hours: 14, othersSd: 0);
        Assert.InRange(found.Share, 0.013, 0.0155);
        Assert.True(found.IsBeyondClass);
    }

    [Fact]
    public void The_first_reading_says_next_to_nothing()
    {
        var found = Learned(new Random(1), _ => 0.02, hours: 1.0 / 360, othersSd: 0.001);
        Assert.InRange(found.Sd, 0.008, 0.01);
        Assert.False(found.IsBeyondClass);
    }

    [Fact]
    public void A_meter_within_its_class_is_let_alone()
    {
        Assert.False(new LearnedGain(0.006, 0.001).IsBeyondClass);
        Assert.True(new LearnedGain(-0.0075, 0.001).IsBeyondClass);
        Assert.Equal(120, new LearnedGain(0.015, 0.001).Corrected(121.8), 1e-9);
    }

    static LearnedGain Learned(Random random, Func<double, double> gain, double hours, double othersSd)
    {
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        var fit = new GainFit();
        var others = othersSd * Normal();
        var noise = 0.0;
        for (var second = 0.0; second < 3600 * hours; second += 10)
        {
            noise += (0.003 * Normal() - noise) * 0.02; // the same for minutes
            fit.Wait(TimeSpan.FromSeconds(10));
            fit.Add(gain(second / 3600) - others + noise + 0.001 * Normal(), othersSd);
        }
        return fit.Gain;
    }
}
