using Farberth.Monitoring.Learning;

namespace Farberth.HotAfternoon.Tests;

/// <summary>Outlets with one appliance each, whose answer to volts is known from its equations; neighbours make the steps.</summary>
public class LoadResponsesLearned(ITestOutputHelper output)
{
    /// <summary>
    /// Ohm's law: a heater is +1. A compressor of 0.2·u² + 0.8 of its watts draws 0.2·u + 0.8/u amps, so at u = 0.95
    /// n = (0.19 − 0.842)/(0.19 + 0.842) = −0.63; its fan, some 4 %, brings that a little nearer to 0.
    /// </summary>
    [Fact]
    public void A_heater_and_an_air_conditioner_are_told_apart_within_what_is_said_of_them()
    {
        var responses = Learned(scenario => scenario with
        {
            Boats = [.. scenario.Boats.Select(boat => boat.Name switch
            {
                "Marigold" => boat with { Pedestal = "F6", Loads = [.. Only<WaterHeaterPlan>(boat)] },
                "Gone Fishing" => boat with { MainOpen = [], Loads = [.. Only<AirConditionerPlan>(boat)] },
                _ => boat,
            })],
        });
        var (heater, cooler) = (responses[new("F6", "A")], responses[new("H11", "A")]);
        output.WriteLine($"heater {heater}, air conditioner {cooler}, untouched {responses[new("H1", "B")]}");
        Assert.InRange(heater.Exponent, 1 - 2 * heater.Sd, 1 + 2 * heater.Sd);
        Assert.InRange(cooler.Exponent, -0.6 - 2 * cooler.Sd, -0.6 + 2 * cooler.Sd);
        Assert.InRange(heater.Sd, 0, 0.25);
        Assert.InRange(cooler.Sd, 0, 0.25);
        Assert.Equal(new LearnedResponse(TwoDays.Site.Limits.LoadResponse, 0.5), responses[new("H1", "B")]);
    }

    static IEnumerable<LoadPlan> Only<T>(BoatPlan boat)
        where T : LoadPlan => boat.Loads.OfType<T>();

    static IReadOnlyDictionary<OutletKey, LearnedResponse> Learned(Func<Scenario, Scenario> change)
    {
        var scenario = change(TwoDays.Scenario(5, []));
        var evening = scenario with { Start = scenario.Start.AddHours(10), End = scenario.Start.AddHours(21.5) };
        return TwoDays.Run(evening).Last().Step.Picture.Learned.Responses;
    }
}
