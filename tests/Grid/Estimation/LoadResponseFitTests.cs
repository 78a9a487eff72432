using CsCheck;
using Farberth.Grid.Estimation;

namespace Farberth.Grid.Tests.Estimation;

public class LoadResponseFitTests
{
    [Fact]
    public void Before_any_step_it_is_the_assumption()
    {
        var fit = new LoadResponseFit(-0.6, 0.5);
        Assert.Equal((-0.6, 0.5), (fit.Response, fit.ResponseSd));
    }

    /// <summary>Ohm's law is n = 1, constant power n = −1; a step of 1 % in the volts and 0.7 % noise in the amps.</summary>
    [Fact]
    public void Any_response_is_learned_within_its_stated_uncertainty() =>
        Gen.Select(Gen.Double[-1, 1], Gen.Int[0, 10_000]).Sample((truth, seed) =>
        {
            var fit = Learned(truth, steps: 400, new Random(seed), strays: 0);
            return Math.Abs(fit.Response - truth) < 5 * fit.ResponseSd && fit.ResponseSd < 0.1;
        });

    [Fact]
    public void Appliances_that_switch_meanwhile_do_not_carry_it_away()
    {
        var fit = Learned(1, steps: 1000, new Random(3), strays: 0.1);
        Assert.InRange(fit.Response, 0.85, 1.15);
    }

    [Fact]
    public void More_steps_make_it_surer_and_time_makes_it_less_sure()
    {
        var fit = Learned(0.5, steps: 50, new Random(1), strays: 0);
        var (some, many) = (fit.ResponseSd, Learned(0.5, steps: 500, new Random(1), strays: 0).ResponseSd);
        Assert.True(many < some);
        fit.Fade(0.1);
        Assert.True(fit.ResponseSd > some);
    }

    static LoadResponseFit Learned(double truth, int steps, Random random, double strays)
    {
        const double noise = 0.007;
        var fit = new LoadResponseFit(-0.6, 0.5);
        for (var step = 0; step < steps; step++)
        {
            var volts = 0.01 * (random.Next(2) == 0 ? 1 : -1);
            var stray = random.NextDouble() < strays ? 0.08 * (random.Next(2) == 0 ? 1 : -1) : 0;
            var miss = noise * (random.NextDouble() + random.NextDouble() + random.NextDouble() + random.NextDouble() - 2) * Math.Sqrt(3);
            fit.Add(volts, truth * volts + miss + stray, noise);
        }
        return fit;
    }
}
