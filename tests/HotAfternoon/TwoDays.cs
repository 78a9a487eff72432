using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon.Tests;

/// <summary>
/// Two days of the demo's dock with one pedestal more, a reading of each every five seconds: meters of class 0.5, 1 % of the
/// messages twice, 2 % lost, two meters dead. Lengths and ordinary joints are not those of the site file.
/// </summary>
static class TwoDays
{
    public static SiteDefinition Site { get; } = WithTwentyFour(Given.Site("scenarios/kestrel-cove.site.yaml"));

    public static Scenario Scenario(long seed, string[] dead, params JointPlan[] joints)
    {
        var demo = HotAfternoon.Scenario.Read(Given.Text("scenarios/hot-afternoon.scenario.yaml")).Scenario!;
        var start = demo.Start.Date;
        return demo with
        {
            Seed = seed,
            Start = start,
            End = start.AddDays(2),
            Step = TimeSpan.FromSeconds(5),
            Feeder = demo.Feeder with { LengthError = 0.04, JointOhms = 0.0003, Joints = joints },
            Meters = demo.Meters with
            {
                Every = TimeSpan.FromSeconds(5), GainError = 0.005, DuplicateShare = 0.01, DropShare = 0.02,
                Silences = [.. dead.Select(name => new SilencePlan(name, start, start.AddDays(2), LinkLost: false, default))],
            },
            Breakers = [],
            Boats = [.. demo.Boats.Select(boat => boat with
            {
                Arrives = null, Leaves = null,
                Aboard = Twice(boat.Aboard), MainOpen = Twice(boat.MainOpen),
                Loads = [.. boat.Loads.Select(load => load with { On = load.On with { During = Twice(load.On.During) } })],
            })],
        };
    }

    public static JointPlan Joint(string cable, Leg conductor, double ohms) => new(cable, conductor, ohms, default);

    /// <summary>A monitor of the dock with a tick every ten seconds, and the truth of the last five of them.</summary>
    public static IEnumerable<(DockStep Step, Truth Truth)> Run(Scenario scenario)
    {
        var (decoder, monitor) = (new InboundDecoder(Site), new DockMonitor(Site, Site.Docks["H"]));
        foreach (var step in new Simulation(scenario, Site).Steps())
        {
            foreach (var message in step.Arrived)
                if (decoder.Decode(message.Message, message.At).Value is { } inbound)
                    monitor.Take(inbound, message.At);
            if ((step.Truth.Time + scenario.Step).Second % 10 == 0)
                yield return (monitor.Step(step.Truth.Time + scenario.Step), step.Truth);
        }
    }

    static SiteDefinition WithTwentyFour(SiteDefinition site)
    {
        var dock = site.Docks["H"];
        var last = dock.Pedestals["F5"];
        var wider = dock with
        {
            Cables = [.. dock.Cables, dock.Cables[^1] with { From = "F5", To = "F6" }],
            Pedestals = new SortedDictionary<string, PedestalDefinition>(dock.Pedestals.ToDictionary())
            {
                ["F6"] = new("F6", last.Outlets.ToDictionary(pair => pair.Key, pair => pair.Value with { Slip = null })),
            },
        };
        return site with { Docks = new Dictionary<string, DockDefinition> { ["H"] = wider } };
    }

    static Span[] Twice(IReadOnlyList<Span> spans) =>
        [.. spans, .. spans.Select(span => new Span(span.From.AddDays(1), span.Until.AddDays(1)))];
}
