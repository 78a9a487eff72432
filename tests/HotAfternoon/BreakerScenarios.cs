using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon.Tests;

/// <summary>
/// Afternoons and weeks on the demo's dock for the breakers of its outlets, each drawn from inside its band: other weather,
/// other people and other appliances with every seed.
/// </summary>
static class BreakerScenarios
{
    static readonly DateTime Day = new(2027, 7, 17);

    /// <summary>Highs of 34 to 40 °C, noon to half past eight. Most boats come back in the afternoon and switch on.</summary>
    public static Scenario HotAfternoon(Scenario demo, SiteDefinition site, long seed)
    {
        var random = new NamedRandom(seed, "afternoon");
        var high = random.Between(34, 40);
        return Of(demo, seed, Day.AddHours(12), Day.AddHours(20.5)) with
        {
            Weather = demo.Weather with { HighCelsius = high, LowCelsius = high - 12, DewPointCelsius = 23 },
            Boats = [.. Boats(site, seed, days: 1, cordsShared: 0.7, aboardShare: 0.9)],
        };
    }

    /// <summary>A week with highs of 24 to 30 °C.</summary>
    public static Scenario OrdinaryWeek(Scenario demo, SiteDefinition site, long seed)
    {
        var random = new NamedRandom(seed, "week");
        var high = random.Between(24, 30);
        return Of(demo, seed, Day, Day.AddDays(7)) with
        {
            Step = TimeSpan.FromSeconds(10),
            Weather = demo.Weather with { HighCelsius = high, LowCelsius = high - 9, DewPointCelsius = 16, Clouds = random.Between(0, 0.5) },
            Boats = [.. Boats(site, seed, days: 7, cordsShared: 0.15, aboardShare: 0.6)],
        };
    }

    static Scenario Of(Scenario demo, long seed, DateTime start, DateTime end) => demo with
    {
        Seed = seed,
        Start = start,
        End = end,
        Step = TimeSpan.FromSeconds(2),
        Feeder = demo.Feeder with { Joints = [], NeutralFaults = [] },
        Meters = demo.Meters with { GainError = 0.0029, Silences = [] },
        Breakers = [],
    };

    /// <summary>One boat on every slip but some; a slip with two cords has a boat with both.</summary>
    static IEnumerable<BoatPlan> Boats(SiteDefinition site, long seed, int days, double cordsShared, double aboardShare)
    {
        var outlets = site.Docks["H"].Pedestals.Values
            .SelectMany(pedestal => pedestal.Outlets.Values.Select(outlet => (pedestal.Name, Outlet: outlet)));
        foreach (var slip in outlets.GroupBy(at => at.Outlet.Slip ?? at.Name))
        {
            var random = new NamedRandom(seed, "slip", slip.Key);
            if (random.Chance(0.15))
                continue;
            var pedestal = slip.First().Name;
            yield return new BoatPlan(
                slip.Key, pedestal, null, null,
                [.. Enumerable.Range(0, days).Where(_ => random.Chance(aboardShare)).SelectMany(day => Aboard(random, day))],
                [], null,
                [.. slip.SelectMany(at => Loads(at.Outlet, random, slip.Count() > 1, cordsShared))], default);
        }
    }

    static IEnumerable<Span> Aboard(NamedRandom random, int day)
    {
        var home = Day.AddDays(day).AddHours(random.Between(13, 17.5));
        yield return new Span(home, home.AddHours(random.Between(3, 8)));
        yield return new Span(Day.AddDays(day).AddHours(21), Day.AddDays(day).AddHours(24));
    }

    /// <summary>What hangs on one cord. Some people run two air conditioners on it.</summary>
    static IEnumerable<LoadPlan> Loads(OutletDefinition outlet, NamedRandom random, bool hasSecondCord, double cordsShared)
    {
        Leg[] legs = [.. outlet.Legs];
        var isShared = legs.Length == 1 && random.Chance(cordsShared);
        foreach (var leg in legs)
        {
            var on = new Feed(outlet.Name, leg, null, false, [], default);
            yield return Cooler(on, random, isShared ? random.Between(13_000, 18_000) : random.Between(9_000, legs.Length > 1 ? 30_000 : 18_000));
            if (isShared)
                yield return Cooler(on, random, random.Between(10_000, 17_000));
            yield return new BatteryChargerPlan(on, random.Between(300, 800), 3 * 3.6e6, random.Between(0.6, 1));
            yield return new RefrigeratorPlan(on, random.Between(120, 200));
            yield return new HouseUsePlan(on, random.Between(150, 450));
            if (!isShared && !hasSecondCord && random.Chance(0.7))
                yield return new WaterHeaterPlan(on with { WhenAboard = true }, random.Between(1000, 1500), 40, 60);
            if (random.Chance(0.6))
                yield return new GalleyUsePlan(on, random.Between(600, 1300), random.Between(0.2, 0.5), random.Between(4, 12));
        }
    }

    static AirConditionerPlan Cooler(Feed on, NamedRandom random, double btuPerHour)
    {
        var watts = btuPerHour * 0.29307;
        double? away = random.Chance(0.5) ? random.Between(26, 29) : null;
        return new(on, watts, random.Between(22, 24), away, false, new CabinPlan(watts / 32, watts * 200, watts * 0.5));
    }
}
