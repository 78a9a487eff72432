using System.Numerics;
using Farberth.Grid.Network;

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
    readonly Func<Ladder> another;
    List<NodeLoad> asked = [];
    readonly Complex[] ohms;
    readonly double sunRiseKelvin;
    readonly double supplySagVolts;
    readonly Complex[] emf;

    public DockRun(Topology topology, Scenario scenario, DateTime local, double airCelsius, AboardRequests requests)
    {
        this.topology = topology;
        (sunRiseKelvin, supplySagVolts) = (scenario.Feeder.SunRiseKelvin, scenario.Feeder.SupplySagVolts);
        tree = DockWiring.TreeOf(topology);
        Outlets = [.. DockWiring.OutletsOf(topology, tree, scenario, airCelsius)];
        cables = [.. DockWiring.CablesOf(topology, tree, scenario, airCelsius)];
        boats = [.. DockWiring.BoatsOf(topology, Outlets, scenario, requests)];
        var supply = topology.Supply;
        emf = [.. supply.Legs.Select(leg => topology.Source.NoLoadVolts * supply.Direction(leg))];
        another = () => new Ladder(
            tree,
            emf,
            SourceImpedance.Of(supply, topology.Source));
        ladder = another();
        ohms = new Complex[tree.Count * tree.Lanes];
        Now = ladder.Solve(Ohms(local), []);
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
            outlet.Step(seconds, local, sky, Now);
        asked = [];
        foreach (var boat in boats)
            boat.Step(seconds, local, sky, Now, asked);
        Supply(sky);
        Now = ladder.Solve(Ohms(local), asked);
        var surroundings = sky.Celsius + sunRiseKelvin * sky.Sun;
        for (var cable = 0; cable < cables.Length; cable++)
            cables[cable].Step(seconds, surroundings, LargestAmps(cable + 1));
    }

    /// <summary>The whole neighbourhood cools its houses: E = E₀ − sag·(T − 20 °C)/20 K (common practice; the figure is the scenario's).</summary>
    void Supply(Sky sky)
    {
        var lost = supplySagVolts * Math.Max(0, sky.Celsius - 20) / 20;
        foreach (var leg in topology.Supply.Legs)
            emf[(int)leg] = (topology.Source.NoLoadVolts - lost) * topology.Supply.Direction(leg);
    }

    public DockTruth Truth(DateTime local) => new(
        Now,
        cables.Select(cable => cable.Celsius).ToArray(),
        Outlets.Where(outlet => !outlet.Closed).Select(outlet => outlet.Name.ToString()).ToArray(),
        () => boats.SelectMany(boat => boat.CanShed(local)),
        left => WithLeft(left, local))
    {
        ContactCelsius = Outlets.ToDictionary(outlet => outlet.Name.ToString(), outlet => outlet.ContactCelsius),
        HotContacts = Outlets.Where(outlet => outlet.IsTooHot).Select(outlet => outlet.Name.ToString()).ToArray(),
    };

    /// <summary>The same moment with only a share of what can wait left at each outlet and leg.</summary>
    Solution WithLeft(Func<OutletName, Leg, double> share, DateTime local)
    {
        var at = Outlets.ToDictionary(outlet => outlet.Node, outlet => outlet.Name);
        return another().Solve([.. Ohms(local)], [.. asked.Select(load => !load.CanWait || load.To != tree.Neutral
            ? load : load with { Demand = load.Demand * share(at[load.Node], (Leg)load.From) })]);
    }

    double LargestAmps(int node)
    {
        var largest = 0.0;
        for (var lane = 0; lane < tree.Lanes; lane++)
            largest = Math.Max(largest, Now.AmpsInto(node, lane).Magnitude);
        return largest;
    }

    Complex[] Ohms(DateTime local)
    {
        for (var lane = 0; lane < tree.Lanes; lane++)
        {
            for (var cable = 0; cable < cables.Length; cable++)
                ohms[(cable + 1) * tree.Lanes + lane] = cables[cable].Ohms(lane, local);
            foreach (var outlet in Outlets)
                ohms[outlet.Node * tree.Lanes + lane] = outlet.CordOhms;
        }
        return ohms;
    }
}
