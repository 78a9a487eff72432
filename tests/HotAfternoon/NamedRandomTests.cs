namespace Farberth.HotAfternoon.Tests;

public class NamedRandomTests
{
    [Fact]
    public void The_same_name_gives_the_same_numbers()
    {
        var first = new NamedRandom(5, "boat", "Marigold");
        var second = new NamedRandom(5, "boat", "Marigold");
        for (var i = 0; i < 100; i++)
            Assert.Equal(first.Unit(), second.Unit());
    }

    [Fact]
    public void Another_name_or_another_seed_gives_other_numbers()
    {
        var marigold = new NamedRandom(5, "boat", "Marigold").Unit();
        Assert.NotEqual(marigold, new NamedRandom(5, "boat", "Sandpiper").Unit());
        Assert.NotEqual(marigold, new NamedRandom(6, "boat", "Marigold").Unit());
        Assert.NotEqual(marigold, new NamedRandom(5, "boatM", "arigold").Unit());
    }

    // Moments of the uniform, normal and exponential distributions; 40,000 draws, limits of about 5 standard errors.
    [Fact]
    public void The_numbers_have_the_moments_of_their_distributions()
    {
        const int Draws = 40_000;
        var random = Given.Random();
        double[] unit = [.. Enumerable.Range(0, Draws).Select(_ => random.Unit())];
        double[] normal = [.. Enumerable.Range(0, Draws).Select(_ => random.Normal())];
        double[] waits = [.. Enumerable.Range(0, Draws).Select(_ => random.Exponential(3))];
        Assert.All(unit, u => Assert.InRange(u, 0, 1));
        Assert.Equal(0.5, unit.Average(), 0.0075);
        Assert.Equal(1.0 / 12, Variance(unit), 0.003);
        Assert.Equal(0, normal.Average(), 0.025);
        Assert.Equal(1, Variance(normal), 0.036);
        Assert.Equal(3, waits.Average(), 0.075);
    }

    static double Variance(double[] values)
    {
        var mean = values.Average();
        return values.Average(value => (value - mean) * (value - mean));
    }
}
