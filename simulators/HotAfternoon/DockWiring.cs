using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon;

/// <summary>Builds one dock's nodes, cables, outlets and boats from its topology and the scenario.</summary>
static class DockWiring
{
    public static Tree TreeOf(Topology topology)
    {
        var names = new List<string> { DockDefinition.SourcePoint };
        var parents = new List<int> { -1 };
        foreach (var cable in topology.Cables)
        {
            parents.Add(names.IndexOf(cable.From));
            names.Add(cable.To);
        }
        foreach (var pedestal in topology.Pedestals)
            foreach (var outlet in OutletNames(pedestal))
            {
                parents.Add(names.IndexOf(pedestal.Name));
                names.Add(outlet.ToString());
            }
        return new Tree(names, parents, topology.Supply.Legs.Count + 1);
    }

    public static IEnumerable<FeederCable> CablesOf(
        Topology topology, Tree tree, Scenario scenario, double airCelsius)
    {
        foreach (var run in topology.Cables)
        {
            var random = new NamedRandom(scenario.Seed, "cable", topology.Dock, run.To);
            yield return new FeederCable(run, tree.Lanes, scenario.Feeder, airCelsius, random);
        }
    }

    public static IEnumerable<MooredBoat> BoatsOf(
        Topology topology, IReadOnlyList<ShorePowerOutlet> outlets, Scenario scenario, AboardRequests requests)
    {
        foreach (var boat in scenario.Boats)
        {
            ShorePowerOutlet[] near = [.. outlets.Where(outlet => outlet.Name.Pedestal == boat.Pedestal)];
            if (near.Length > 0)
                yield return new MooredBoat(boat, near, topology.Supply, scenario.Seed, requests);
        }
    }

    public static IEnumerable<ShorePowerOutlet> OutletsOf(
        Topology topology, Tree tree, Scenario scenario, double airCelsius)
    {
        var family = topology.Supply.Hertz > 55 ? BreakerFamily.Ul489 : BreakerFamily.Iec60898;
        foreach (var pedestal in topology.Pedestals)
            foreach (var name in OutletNames(pedestal))
            {
                var outlet = pedestal.Outlets[name.Outlet];
                var plan = scenario.Breakers.FirstOrDefault(breaker => breaker.Outlet == name);
                var drawn = OutletBreaker.DrawHolds(family, new NamedRandom(scenario.Seed, "breaker", name.ToString()));
                var breaker = new OutletBreaker(family, outlet.RatingAmps, plan?.Holds ?? drawn);
                yield return new ShorePowerOutlet(
                    name, outlet, tree.IndexOf(name.ToString()), breaker, plan?.Reset, ContactsOf(name, scenario), airCelsius);
            }
    }

    static ContactPlan ContactsOf(OutletName outlet, Scenario scenario) =>
        scenario.Contacts.FirstOrDefault(contacts => contacts.Outlet == outlet)
        ?? new(outlet, ContactPlan.DrawWear(scenario.Feeder.ContactWear, new NamedRandom(scenario.Seed, "contacts", outlet.ToString())),
            ContactPlan.UsualLimitCelsius, default);

    static IEnumerable<OutletName> OutletNames(PedestalDefinition pedestal) =>
        pedestal.Outlets.Keys.Order(StringComparer.Ordinal).Select(outlet => new OutletName(pedestal.Name, outlet));
}
