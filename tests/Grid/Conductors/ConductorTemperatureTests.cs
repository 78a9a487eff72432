using CsCheck;
using Farberth.Grid.Conductors;

namespace Farberth.Grid.Tests.Conductors;

public class ConductorTemperatureTests
{
    static readonly Gen<(Conductor, TemperatureRating, double)> Loaded = Gen.Select(
        Gen.OneOf([.. Conductor.All]),
        Gen.OneOf(Enum.GetValues<TemperatureRating>()),
        Gen.Double[-20, 55]);

    [Fact]
    public void At_its_ampacity_a_conductor_settles_at_its_rating() => Loaded.Sample((conductor, rating, ambient) =>
    {
        var amps = conductor.AmpacityAmps(rating, ambient);
        var celsius = ConductorTemperature.Celsius(ambient, amps, conductor.AmpacityAt30Amps(rating), rating);
        Assert.Equal((double)rating, celsius, 1e-9);
    });

    [Theory]
    [InlineData(30, 0, 30)]
    [InlineData(30, 115, 41.25)]
    [InlineData(30, 230, 75)]
    [InlineData(40, 230, 85)]
    [InlineData(30, 460, 210)]
    public void The_rise_goes_with_the_square_of_the_current(double ambient, double amps, double celsius) =>
        Assert.Equal(celsius, ConductorTemperature.Celsius(ambient, amps, 230, TemperatureRating.C75), 1e-9);

    // The balance with R at its own temperature, R(T) = R(Tc)·[1 + 0.00323·(T − 75)] for copper, solved by repetition.
    [Fact]
    public void Below_the_rating_the_estimate_is_high_by_less_than_two_kelvin() => Gen.Double[0, 1].Sample(load =>
    {
        var exact = 30.0;
        for (var i = 0; i < 50; i++)
            exact = 30 + 45 * load * load * (1 + 0.00323 * (exact - 75));
        var estimate = ConductorTemperature.Celsius(30, load * 230, 230, TemperatureRating.C75);
        Assert.InRange(estimate - exact, -1e-9, 2);
    });

    [Theory]
    [InlineData(0)]
    [InlineData(-5)]
    public void A_conductor_without_ampacity_is_refused(double ampacity) => Assert.Throws<ArgumentOutOfRangeException>(
        () => ConductorTemperature.Celsius(30, 10, ampacity, TemperatureRating.C75));
}
