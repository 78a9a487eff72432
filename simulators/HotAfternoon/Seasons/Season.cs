namespace Farberth.HotAfternoon;

/// <summary>Turns a scenario of one day into one of many.</summary>
/// <remarks>
/// The boats keep their appliances; when somebody is aboard, and whether the boat is there at all, is drawn anew. What the
/// scenario says of single hours (aboard, during, main-open, arrives, leaves, silences) is left out. No breaker trips: nobody
/// would be there in the model to close it again.
/// </remarks>
public static class Season
{
    /// <summary>What a breaker then holds, share of its rating: more than any boat draws.</summary>
    const double NeverTrips = 8;

    public static Scenario Of(Scenario oneDay, SeasonPlan plan)
    {
        var first = oneDay.Start.Date;
        return oneDay with
        {
            Start = first,
            End = first.AddDays(plan.Days),
            Weather = oneDay.Weather with { Days = SeasonWeather.Draw(plan, oneDay.Seed), FirstDay = first, ForecastHours = 24 },
            Meters = oneDay.Meters with { Silences = [] },
            Breakers =
            [
                .. oneDay.Boats.SelectMany(boat => boat.Loads.Select(load => new OutletName(boat.Pedestal, load.On.Outlet)))
                    .Distinct().Select(outlet => new BreakerPlan(outlet, NeverTrips, null, default)),
            ],
            Boats = [.. oneDay.Boats.Select(boat => Boat(boat, first, plan, oneDay.Seed))],
        };
    }

    static BoatPlan Boat(BoatPlan boat, DateTime first, SeasonPlan plan, long seed)
    {
        var (aboard, trips) = BoatLife.Draw(plan, first, new NamedRandom(seed, "life", boat.Name));
        return boat with
        {
            Arrives = null, Leaves = null, MainOpen = [], Aboard = aboard, Trips = trips,
            Loads = [.. boat.Loads.Select(load => load with { On = load.On with { During = [] } })],
        };
    }
}
