using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon;

/// <summary>Holds a scenario against the site it is played on: every name must be the site's.</summary>
static class SiteFit
{
    public static IReadOnlyList<ScenarioMistake> Mistakes(Scenario scenario, SiteDefinition site) =>
    [
        .. Joints(scenario, site),
        .. scenario.Meters.Silences
            .Where(silence => Pedestal(site, silence.Pedestal) is null)
            .Select(silence => new ScenarioMistake(silence.Place, $"the site has no pedestal '{silence.Pedestal}'.")),
        .. scenario.Breakers
            .Where(breaker => Outlet(site, breaker.Outlet) is null)
            .Select(breaker => new ScenarioMistake(breaker.Place, $"the site has no outlet '{breaker.Outlet}'.")),
        .. scenario.Contacts
            .Where(contacts => Outlet(site, contacts.Outlet) is null)
            .Select(contacts => new ScenarioMistake(contacts.Place, $"the site has no outlet '{contacts.Outlet}'.")),
        .. scenario.Meters.WithoutCelsius
            .Where(plan => Pedestal(site, plan.Pedestal) is null)
            .Select(plan => new ScenarioMistake(plan.Place, $"the site has no pedestal '{plan.Pedestal}'.")),
        .. scenario.Boats.SelectMany(boat => Boat(boat, site)),
    ];

    public static PedestalDefinition? Pedestal(SiteDefinition site, string name) =>
        site.Docks.Values
            .Select(dock => dock.Pedestals.GetValueOrDefault(name))
            .FirstOrDefault(pedestal => pedestal is not null);

    public static OutletDefinition? Outlet(SiteDefinition site, OutletName name) =>
        Pedestal(site, name.Pedestal)?.Outlets.GetValueOrDefault(name.Outlet);

    static IEnumerable<ScenarioMistake> Joints(Scenario scenario, SiteDefinition site)
    {
        var feeder = scenario.Feeder;
        var named = feeder.Joints.Select(joint => (joint.Cable, joint.Place))
            .Concat(feeder.NeutralFaults.Select(fault => (fault.Cable, fault.Place)));
        foreach (var (name, place) in named)
            if (!site.Docks.Values.SelectMany(dock => dock.Cables).Any(cable => cable.To == name))
                yield return new ScenarioMistake(place, $"the site has no cable to '{name}'.");
        foreach (var joint in feeder.Joints)
        {
            if (joint.Conductor != Leg.N && !site.Supply.Legs.Contains(joint.Conductor))
                yield return new ScenarioMistake(joint.Place, $"the supply has no leg {joint.Conductor}.");
        }
    }

    static IEnumerable<ScenarioMistake> Boat(BoatPlan boat, SiteDefinition site)
    {
        if (Pedestal(site, boat.Pedestal) is not { } pedestal)
        {
            yield return new ScenarioMistake(boat.Place, $"the site has no pedestal '{boat.Pedestal}'.");
            yield break;
        }
        foreach (var on in boat.Loads.Select(load => load.On))
        {
            if (!pedestal.Outlets.TryGetValue(on.Outlet, out var outlet))
                yield return new ScenarioMistake(on.Place, $"pedestal {boat.Pedestal} has no outlet '{on.Outlet}'.");
            else if (LegMistake(on, outlet) is { } message)
                yield return new ScenarioMistake(on.Place, message);
        }
    }

    static string? LegMistake(Feed on, OutletDefinition outlet)
    {
        Leg?[] asked = [on.Leg, on.Other];
        if (asked.OfType<Leg>().Except(outlet.Legs).Any())
            return $"outlet '{outlet.Name}' has no leg {string.Join(", ", asked.OfType<Leg>().Except(outlet.Legs))}.";
        return on.Other is null && !outlet.HasNeutral
            ? $"outlet '{outlet.Name}' has no neutral: say two legs, as in {outlet.Name}/L1-L2."
            : null;
    }
}
