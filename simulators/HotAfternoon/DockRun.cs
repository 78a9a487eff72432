using System.Numerics;
using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon;

/// <summary>One dock while the scenario plays: cables, outlets, boats and the volts and amps between them.</summary>
/// <remarks>
/// One step: breakers act on the amps of the step before, boats ask at its volts, the ladder solves, the cables warm.
/// </remarks>
sealed class DockRun
{
    readonly Topology topology;
    readonly FeederCable[] cables;
    readonly MooredBoat[] boats;
    readonly Tree tree;
    readonly Ladder ladder;
    readonly Complex[] ohms;
    readonly double sunRiseKelvin;

    public DockRun(Topology topology, Scenario scenario, double airCelsius)
    {
        this.topology = topology;
        sunRiseKelvin = scenario.Feeder.SunRiseKelvin;
        tree = TreeOf(topology);
        Outlets = [.. OutletsOf(topology, tree, scenario, airCelsius)];
        cables = [.. topology.Cables.Select(run => new FeederCable(
            run, tree.Lanes, scenario.Feeder, airCelsius, new NamedRandom(scenario.Seed, "cable", topology.Dock, run.To)))];
        boats = [.. scenario.Boats
            .Where(boat => topology.Pedestals.Any(pedestal => pedestal.Name == boat.Pedestal))
            .Select(boat => new MooredBoat(
                boat, [.. Outlets.Where(outlet => outlet.Name.Pedestal == boat.Pedestal)], topology.Supply, scenario.Seed))];
        var supply = topology.Supply;
        ladder = new Ladder(
            tree,
            [.. supply.Legs.Select(leg => topology.Source.NoLoadVolts * supply.Direction(leg))],
            SourceImpedance.Of(supply, topology.Source));
        ohms = new Complex[tree.Count * tree.Lanes];
        Now = ladder.Solve(Ohms(), []);
    }

    public IReadOnlyList<ShorePowerOutlet> Outlets { get; }

    public Topology Topology => topology;

    public Solution Now { get; private set; }

    /// <summary>Berths of this dock and whether a boat lies in them.</summary>
    public IEnumerable<(string Slip, bool Present)> Presence(DateTime local)
    {
        var there = boats.Where(boat => boat.IsThere(local)).SelectMany(boat => boat.Slips).ToHashSet();
        var slips = Outlets.Select(outlet => outlet.Definition.Slip).OfType<string>().Distinct();
        return slips.Order(StringComparer.Ordinal).Select(slip => (slip, there.Contains(slip)));
    }

    public void Step(double seconds, DateTime local, Sky sky)
    {
        foreach (var outlet in Outlets)
            outlet.Step(seconds, local, sky.Celsius, Now);
        var asked = new List<NodeLoad>();
        foreach (var boat in boats)
            boat.Step(seconds, local, sky, Now, asked);
        Now = ladder.Solve(Ohms(), asked);
        var surroundings = sky.Celsius + sunRiseKelvin * sky.Sun;
        for (var cable = 0; cable < cables.Length; cable++)
            cables[cable].Step(seconds, surroundings, LargestAmps(cable + 1));
    }

    public DockTruth Truth() => new(
        Now,
        cables.Select(cable => cable.Celsius).ToArray(),
        Outlets.Where(outlet => !outlet.Closed).Select(outlet => outlet.Name.ToString()).ToArray());

    double LargestAmps(int node)
    {
        var largest = 0.0;
        for (var lane = 0; lane < tree.Lanes; lane++)
            largest = Math.Max(largest, Now.AmpsInto(node, lane).Magnitude);
        return largest;
    }

    Complex[] Ohms()
    {
        for (var lane = 0; lane < tree.Lanes; lane++)
        {
            for (var cable = 0; cable < cables.Length; cable++)
                ohms[(cable + 1) * tree.Lanes + lane] = cables[cable].Ohms(lane);
            foreach (var outlet in Outlets)
                ohms[outlet.Node * tree.Lanes + lane] = outlet.CordOhms;
        }
        return ohms;
    }

    static Tree TreeOf(Topology topology)
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

    static IEnumerable<ShorePowerOutlet> OutletsOf(Topology topology, Tree tree, Scenario scenario, double airCelsius)
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
                    name, outlet, tree.IndexOf(name.ToString()), breaker, plan?.Reset, airCelsius);
            }
    }

    static IEnumerable<OutletName> OutletNames(PedestalDefinition pedestal) =>
        pedestal.Outlets.Keys.Order(StringComparer.Ordinal).Select(outlet => new OutletName(pedestal.Name, outlet));
}
