using CsCheck;
using Farberth.Grid.Conductors;

namespace Farberth.Grid.Tests.Conductors;

public class ConductorProperties
{
    static readonly Gen<Conductor> AnyConductor = Gen.OneOf([.. Conductor.All]);
    static readonly Gen<Raceway> AnyRaceway = Gen.OneOf(Enum.GetValues<Raceway>());
    static readonly Gen<TemperatureRating> AnyRating = Gen.OneOf(Enum.GetValues<TemperatureRating>());

    [Fact]
    public void Resistance_rises_with_temperature() =>
        Gen.Select(AnyConductor, AnyRaceway, Gen.Double[-20, 120], Gen.Double[0.1, 30])
            .Sample((conductor, raceway, celsius, rise) =>
                conductor.OhmsPerMetre(celsius + rise, raceway) > conductor.OhmsPerMetre(celsius, raceway));

    [Fact]
    public void Resistance_falls_with_area() =>
        Gen.Select(AnyRaceway, Gen.Double[-20, 120]).Sample((raceway, celsius) => Assert.All(
            Conductor.All.GroupBy(conductor => (conductor.Metal, conductor.IsNec())),
            family => AssertRising(family, conductor => -conductor.OhmsPerMetre(celsius, raceway))));

    [Fact]
    public void Copper_resists_less_than_aluminium_of_the_same_size() =>
        Gen.Select(AnyConductor, AnyRaceway, Gen.Double[-20, 120]).Sample((aluminium, raceway, celsius) =>
            aluminium.Metal == Metal.Copper
            || Parsed.Conductor(aluminium.Designation.Replace("Al", "Cu", StringComparison.Ordinal))
                .OhmsPerMetre(celsius, raceway) < aluminium.OhmsPerMetre(celsius, raceway));

    [Fact]
    public void Metal_raceway_never_lowers_resistance_or_reactance() =>
        Gen.Select(AnyConductor, AnyRaceway, Gen.Double[-20, 120]).Sample((conductor, raceway, celsius) =>
            conductor.OhmsPerMetre(celsius, raceway) >= conductor.OhmsPerMetre(celsius, Raceway.None)
            && conductor.ReactanceOhmsPerMetre(raceway, 60) >= conductor.ReactanceOhmsPerMetre(Raceway.None, 60));

    [Fact]
    public void Ampacity_falls_with_ambient() =>
        Gen.Select(AnyConductor, AnyRating, Gen.Double[-20, 59], Gen.Double[0.1, 40])
            .Sample((conductor, rating, ambient, rise) =>
                conductor.AmpacityAmps(rating, ambient + rise) < conductor.AmpacityAmps(rating, ambient));

    [Fact]
    public void Ampacity_rises_with_area_across_both_families() =>
        Assert.All(Enum.GetValues<TemperatureRating>(), rating => Assert.All(
            Conductor.All.GroupBy(conductor => conductor.Metal),
            metal => AssertRising(metal, conductor => conductor.AmpacityAt30Amps(rating))));

    [Fact]
    public void Ampacity_rises_with_the_rating() => Assert.All(Conductor.All, conductor => Assert.True(
        conductor.AmpacityAt30Amps(TemperatureRating.C60) < conductor.AmpacityAt30Amps(TemperatureRating.C75)
        && conductor.AmpacityAt30Amps(TemperatureRating.C75) < conductor.AmpacityAt30Amps(TemperatureRating.C90)));

    static void AssertRising(IEnumerable<Conductor> conductors, Func<Conductor, double> quantity)
    {
        var byArea = conductors.OrderBy(conductor => conductor.SquareMillimetres).ToArray();
        Assert.All(byArea.Zip(byArea.Skip(1)), pair =>
            Assert.True(quantity(pair.First) < quantity(pair.Second), $"{pair.First} and {pair.Second}"));
    }
}
