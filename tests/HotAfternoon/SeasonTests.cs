using System.Text.Json;

namespace Farberth.HotAfternoon.Tests;

/// <summary>Many days made of one.</summary>
public class SeasonTests
{
    static readonly Scenario Year = Season.Of(Given.Scenario("scenarios/hot-afternoon.scenario.yaml"), SeasonPlan.Usual with { Days = 364 });

    [Fact]
    public void Days_differ_by_the_spread_and_hang_together()
    {
        double[] kelvin = [.. Year.Weather.Days.Select(day => day.Kelvin)];
        var mean = kelvin.Average();
        var variance = kelvin.Average(k => (k - mean) * (k - mean));
        var together = kelvin.Zip(kelvin.Skip(1), (one, next) => (one - mean) * (next - mean)).Average() / variance;
        Assert.Equal(3, Math.Sqrt(variance), 0.6);
        Assert.Equal(0.6, together, 0.12);
    }

    [Fact]
    public void The_temperature_has_no_step_at_midnight_and_its_days_own_height_at_the_hottest_hour()
    {
        var sky = new HeatWave(Year.Weather);
        for (var at = Year.Start; at < Year.Start.AddDays(20); at = at.AddMinutes(1))
            Assert.Equal(sky.At(at).Celsius, sky.At(at.AddMinutes(1)).Celsius, 0.1);
        var hottest = Year.Start.AddDays(3) + Year.Weather.HottestAt.ToTimeSpan();
        Assert.Equal(Year.Weather.HighCelsius + Year.Weather.Days[3].Kelvin, sky.At(hottest).Celsius, 1e-9);
    }

    [Fact]
    public void A_forecast_is_further_off_the_further_ahead_and_reaches_a_day()
    {
        var sky = new HeatWave(Year.Weather);
        double Rms(int hours) => Math.Sqrt(Enumerable.Range(0, 300).Average(day =>
        {
            var of = Year.Start.AddDays(day + 2) + Year.Weather.HottestAt.ToTimeSpan();
            return Math.Pow(sky.ForecastErrorKelvin(of.AddHours(-hours), of, 0), 2);
        }));
        Assert.Equal(Year.Weather.ForecastErrorKelvin, Rms(12), 0.15);
        Assert.Equal(2 * Rms(6), Rms(24), 0.01); // √24 is twice √6
        var weather = new Simulation(Year with { End = Year.Start.AddHours(1) }, Given.Site("scenarios/kestrel-cove.site.yaml")).Run()
            .First(message => message.Message.Topic.EndsWith("weather", StringComparison.Ordinal));
        Assert.Equal(24, JsonDocument.Parse(weather.Message.Payload).RootElement.GetProperty("forecast").GetArrayLength());
    }

    [Fact]
    public void Boats_come_and_go_and_more_people_are_aboard_on_weekends()
    {
        Assert.Contains(Year.Boats, boat => boat.Trips.Count > 50);
        double Aboard(Func<DayOfWeek, bool> on) => Enumerable.Range(0, 364).Select(day => Year.Start.AddDays(day).AddHours(12))
            .Where(noon => on(noon.DayOfWeek)).Average(noon => Year.Boats.Count(boat => boat.Aboard.Any(span => span.Holds(noon))));
        Assert.True(Aboard(day => day == DayOfWeek.Saturday) > 1.5 * Aboard(day => day == DayOfWeek.Wednesday));
        Assert.All(Year.Boats, boat => Assert.DoesNotContain(boat.Aboard, span => span.Until < span.From));
    }

    [Fact]
    public void A_season_stands_in_a_scenario_file_and_the_same_seed_gives_the_same_season()
    {
        var yaml = Given.FourPostsScenario() + "season: { days: 5, spread: 2 K, persistence: 50 %, residents: 100 %, weekenders: 0 % }\n";
        var (one, same) = (Scenario.Read(yaml), Scenario.Read(yaml));
        Assert.Empty(one.Mistakes);
        Assert.Equal(5, (one.Scenario!.End - one.Scenario.Start).TotalDays);
        Assert.Equal(one.Scenario.Weather.Days, same.Scenario!.Weather.Days);
        Assert.Equal(one.Scenario.Boats[0].Aboard, same.Scenario.Boats[0].Aboard);
        Assert.NotEmpty(Scenario.Read(yaml.Replace("weekenders: 0", "weekenders: 10", StringComparison.Ordinal)).Mistakes);
    }

    [Fact]
    public void The_supply_sags_in_the_heat_by_what_the_scenario_says()
    {
        double NoLoad(double sagVolts) => Given.FourPosts(scenario => scenario with
        {
            Boats = [], Feeder = scenario.Feeder with { SupplySagVolts = sagVolts },
            Weather = scenario.Weather with { LowCelsius = 40, HighCelsius = 40 },
        }).Steps().First().Truth.Docks.Values.First().Volts("source", Farberth.Grid.Network.Leg.L1);
        Assert.Equal(3, NoLoad(0) - NoLoad(3), 1e-6);
    }
}
