namespace Farberth.HotAfternoon.Tests;

public class ScenarioReadTests
{
    const string Good = """
        scenario: small
        start: 2027-07-17 11:00
        end: 2027-07-17 12:00
        boats:
          - name: Tern
            pedestal: Q1
            aboard: [11:10-11:20]
            loads:
              - charger: { on: A, power: 0.5 kW, charge: 40 % }
        """;

    [Fact]
    public void A_small_scenario_reads_with_its_defaults()
    {
        var result = Scenario.Read(Good);
        Assert.Empty(result.Mistakes);
        Assert.True(result.IsGood);
        Assert.Equal(TimeSpan.FromSeconds(10), result.Scenario.Meters.Every);
        var boat = Assert.Single(result.Scenario.Boats);
        Assert.True(boat.Aboard[0].Holds(new DateTime(2027, 7, 17, 11, 10, 0)));
        Assert.False(boat.Aboard[0].Holds(new DateTime(2027, 7, 17, 11, 20, 0)));
        var charger = Assert.IsType<BatteryChargerPlan>(Assert.Single(boat.Loads));
        Assert.Equal(500, charger.RatedWatts);
        Assert.Equal(0.4, charger.Charge, 9);
    }

    [Fact]
    public void All_mistakes_come_in_one_pass_with_their_lines()
    {
        var result = Scenario.Read("""
            scenario: broken
            start: 2027-07-17 11:00
            end: 2027-07-17 10:00
            weather: { high: 34 }
            wether: { low: 20 °C }
            boats:
              - name: Tern
                pedestal: Q1
                aboard: [18:00-17:00]
                loads:
                  - charger: { on: A/L7, power: 500 V }
                  - toaster: { on: A }
            """);
        Assert.False(result.IsGood);
        Assert.Equal([3, 4, 5, 9, 11, 11, 12], result.Mistakes.Select(mistake => mistake.Place.Line));
        var both = result.Mistakes[4].Message + result.Mistakes[5].Message;
        Assert.Contains("units W, kW, Btu/h", both, StringComparison.Ordinal);
        Assert.Contains("air-conditioner", result.Mistakes[6].Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("just words")]
    [InlineData("a: [1, 2")]
    [InlineData("a: 1\na: 2")]
    public void What_is_no_mapping_is_one_clear_mistake(string yaml)
    {
        var mistake = Assert.Single(Scenario.Read(yaml).Mistakes);
        Assert.True(mistake.Place.Line >= 1);
    }

    [Fact]
    public void Names_the_site_does_not_have_are_told_with_their_lines()
    {
        var site = Given.Site("data/hot-afternoon/four-posts.site.yaml");
        var scenario = Scenario.Read(Given.FourPostsScenario()
            .Replace("pedestal: Q4", "pedestal: Q9", StringComparison.Ordinal)
            .Replace("{ on: B/L3, power: 600 W }", "{ on: C, power: 600 W }", StringComparison.Ordinal)
            .Replace("outlet: Q1.B", "outlet: Q1.Z", StringComparison.Ordinal)).Scenario!;
        var mistakes = Simulation.Check(scenario, site);
        Assert.Equal(3, mistakes.Count);
        Assert.All(mistakes, mistake => Assert.True(mistake.Place.Line > 1));
        Assert.Throws<ArgumentException>(() => new Simulation(scenario, site));
    }

    [Fact]
    public void Worn_contacts_and_pedestals_without_their_temperature_are_read_and_held_against_the_site()
    {
        var text = Given.FourPostsScenario().Replace("  silences:", "  without-celsius: [Q1, Q7]\n  silences:", StringComparison.Ordinal)
            + "contacts: [{ outlet: Q2.A, wear: 180 %, limit: 90 °C }, { outlet: Q8.A, wear: 120 % }]\n";
        var scenario = Scenario.Read(text).Scenario!;
        Assert.Equal([("Q2.A", 1.8, 90), ("Q8.A", 1.2, 75)], scenario.Contacts.Select(one => (one.Outlet.ToString(), one.Wear, one.LimitCelsius)));
        var mistakes = Simulation.Check(scenario, Given.Site("data/hot-afternoon/four-posts.site.yaml")).Select(mistake => mistake.Message);
        Assert.Equal(["the site has no outlet 'Q8.A'.", "the site has no pedestal 'Q7'."], mistakes);
    }

    [Fact]
    public void A_load_to_neutral_on_an_outlet_without_neutral_is_told()
    {
        var site = Given.Site("data/hot-afternoon/four-posts.site.yaml");
        var text = Given.FourPostsScenario().Replace("A/L2-L3", "A/L3", StringComparison.Ordinal);
        var mistake = Assert.Single(Simulation.Check(Scenario.Read(text).Scenario!, site));
        Assert.Contains("no neutral", mistake.Message, StringComparison.Ordinal);
    }

    // 1 Btu (International Table) is 1,055.06 J; 95 °F is 35 °C; a US gallon is 3.785 litres.
    [Theory]
    [InlineData("16000 Btu/h", Quantity.Watts, 4689.1)]
    [InlineData("95 °F", Quantity.Celsius, 35)]
    [InlineData("6 gal", Quantity.Litres, 22.712)]
    [InlineData("2 mohm", Quantity.Ohms, 0.002)]
    [InlineData("1.5kWh", Quantity.Joules, 5_400_000)]
    public void Quantities_carry_their_units(string text, Quantity quantity, double expected)
    {
        Assert.True(QuantityText.TryRead(text, quantity, out var value));
        Assert.Equal(expected, value, Math.Abs(expected) * 1e-4);
    }

    [Theory]
    [InlineData("12", Quantity.Watts)]
    [InlineData("12 V", Quantity.Watts)]
    [InlineData("W", Quantity.Watts)]
    [InlineData("1.2.3 W", Quantity.Watts)]
    public void A_number_without_its_unit_is_refused(string text, Quantity quantity) =>
        Assert.False(QuantityText.TryRead(text, quantity, out _));
}
