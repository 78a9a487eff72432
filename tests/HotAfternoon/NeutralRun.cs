using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon.Tests;

/// <summary>One recording of ten minutes through the monitor that the service uses, and what it raises about the neutral.</summary>
sealed class NeutralRun
{
    /// <summary>A neutral fails four minutes into the recording.</summary>
    public static readonly TimeSpan FailsAfter = TimeSpan.FromMinutes(4);

    /// <summary>Twelve pedestals on 120/240 V, nearly all boats on L1; one meter is dead.</summary>
    public static readonly (string Site, string Scenario) FairReach =
        ("data/open-neutral/fair-reach.site.yaml", "data/open-neutral/unbalanced.scenario.yaml");

    /// <summary>Four pedestals on 400Y/230 V.</summary>
    public static readonly (string Site, string Scenario) FourPosts =
        ("data/hot-afternoon/four-posts.site.yaml", "data/hot-afternoon/four-posts.scenario.yaml");

    public NeutralRun((string Site, string Scenario) files, long seed, string? cable = null, double ohms = NeutralFaultPlan.OpenOhms)
    {
        Site = Given.Site(files.Site);
        var scenario = Given.Scenario(files.Scenario);
        NeutralFaultPlan[] faults = cable is null ? [] : [new(cable, ohms, scenario.Start + FailsAfter, default)];
        var simulation = new Simulation(
            scenario with { Seed = seed, Feeder = scenario.Feeder with { NeutralFaults = faults } }, Site);
        FailsAt = simulation.Start + FailsAfter;
        var monitor = new SiteMonitor(Site);
        foreach (var step in simulation.Steps())
        {
            Truths.Add(step.Truth.Docks.Values.Single());
            foreach (var message in step.Arrived)
            {
                Raised.AddRange(monitor.Advance(message.At).SelectMany(tick => tick.Transitions)
                    .Where(transition => transition.Alarm is { Kind: AlarmKind.OpenNeutral, State: AlarmState.Unacknowledged }));
                monitor.Take(message);
            }
        }
    }

    public SiteDefinition Site { get; }

    public DateTimeOffset FailsAt { get; }

    public List<AlarmTransition> Raised { get; } = [];

    /// <summary>Second by second.</summary>
    public List<DockTruth> Truths { get; } = [];

    public IEnumerable<string> Cables => Raised.Select(raised => (string)raised.Alarm.Evidence["cable"]![1]!);

    /// <summary>The cables from the source to one, outermost first.</summary>
    public IEnumerable<string> WayTo(string cable)
    {
        var cables = Site.Docks.Values.Single().Cables;
        for (var at = cables.Single(one => one.To == cable); at is not null; at = cables.SingleOrDefault(one => one.To == at.From))
            yield return at.To;
    }

    /// <summary>When each leg of a pedestal first stood by more than 6 V from where it stood in the same second without the fault.</summary>
    public DateTimeOffset MovedAt(string pedestal, NeutralRun healthy) => FailsAt - FailsAfter + TimeSpan.FromSeconds(
        Enumerable.Range(0, Truths.Count).First(second => Site.Supply.Legs.All(leg =>
            Math.Abs(Truths[second].Volts(pedestal, leg) - healthy.Truths[second].Volts(pedestal, leg)) > 6)));
}
