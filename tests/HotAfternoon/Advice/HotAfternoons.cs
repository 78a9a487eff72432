using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon.Tests.Advice;

/// <summary>Hot afternoons like the demo's, each of its own: weather, sizes of air conditioners, when people come back, more boats.</summary>
static class HotAfternoons
{
    /// <summary>Outlets without a boat in the demo.</summary>
    static readonly (string Pedestal, string Outlet)[] Empty =
        [("H1", "B"), ("H3", "B"), ("H5", "A"), ("H6", "A"), ("H9", "B"), ("H11", "B"), ("H12", "A"), ("H13", "B"), ("H15", "A"), ("H17", "A"), ("F2", "B"), ("F4", "B")];

    public static SiteDefinition Site { get; } = Given.Site("scenarios/kestrel-cove.site.yaml");

    /// <summary>The same for a monitor that thinks its cables, breakers and outlets stand everything: what must come down, must for the volts.</summary>
    public static SiteDefinition OnlyVolts { get; } = Site with
    {
        Docks = new Dictionary<string, DockDefinition>
        {
            ["H"] = Site.Docks["H"] with
            {
                FeederBreakerAmps = null,
                Cables = [.. Site.Docks["H"].Cables.Select(cable => cable with { AmpacityAmps = 1000 })],
                Pedestals = Site.Docks["H"].Pedestals.ToDictionary(pair => pair.Key, pair => new PedestalDefinition(
                    pair.Key, pair.Value.Outlets.ToDictionary(outlet => outlet.Key, outlet => outlet.Value with { RatingAmps = 2 * outlet.Value.RatingAmps }))),
            },
        },
    };

    public static Scenario Of(long seed)
    {
        var demo = HotAfternoon.Scenario.Read(Given.Text("scenarios/hot-afternoon.scenario.yaml")).Scenario!;
        var random = new NamedRandom(seed, "afternoon");
        return demo with
        {
            Seed = seed,
            Start = demo.Start.Date.AddHours(13.5),
            End = demo.Start.Date.AddHours(19.5),
            Step = TimeSpan.FromSeconds(10),
            Weather = demo.Weather with { HighCelsius = random.Between(34, 39), Clouds = random.Between(0, 0.3) },
            Breakers = [],
            Boats = [.. demo.Boats.Select(boat => Varied(boat, new NamedRandom(seed, "varied", boat.Name))), .. Visitors(demo, random)],
        };
    }

    static BoatPlan Varied(BoatPlan boat, NamedRandom random)
    {
        var (later, size) = (TimeSpan.FromMinutes(random.Between(-40, 40)), random.Between(0.85, 1.2));
        return boat with
        {
            Aboard = [.. boat.Aboard.Select(span => new Span(span.From + later, span.Until + later))],
            Loads = [.. boat.Loads.Select(load => load is AirConditionerPlan cooler ? cooler with { CapacityWatts = size * cooler.CapacityWatts } : load)],
        };
    }

    /// <summary>Up to six more boats of the one-cord kind.</summary>
    static IEnumerable<BoatPlan> Visitors(Scenario demo, NamedRandom random)
    {
        var pattern = demo.Boats.Single(boat => boat.Name == "Marigold");
        var places = Empty.Select(place => (place, order: random.Unit())).OrderBy(one => one.order).Select(one => one.place).ToList();
        return places.Take((int)random.Between(0, 6.99)).Select((place, at) => Varied(pattern, new NamedRandom(demo.Seed, "visitor", $"{random.Unit()}")) with
        {
            Name = $"Visitor {at}",
            Pedestal = place.Pedestal,
            Loads = [.. pattern.Loads.Select(load => load with { On = load.On with { Outlet = place.Outlet } })],
        });
    }
}
