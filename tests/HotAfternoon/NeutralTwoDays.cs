using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon.Tests;

/// <summary>
/// A two-day recording of <see cref="TwoDays"/> second by second through the whole <see cref="DockMonitor"/>, and what that raises about the neutral.
/// Two meters are dead. On even seeds the dock is unbalanced: two outlets in five hang on L1 whatever their place.
/// </summary>
sealed class NeutralTwoDays
{
    readonly NamedRandom random;
    readonly SiteDefinition site;
    readonly string[] dead;
    readonly Dictionary<string, int> readings = [];
    DateTimeOffset? longSince;

    NeutralTwoDays(long seed)
    {
        random = new(seed, "neutral");
        site = seed % 2 == 0 ? Unbalanced(TwoDays.Site, random) : TwoDays.Site;
        dead = [.. Dock.Pedestals.Keys.OrderBy(_ => random.Between(0, 1)).Take(2)];
    }

    /// <summary>Null where the dock is healthy.</summary>
    public NeutralFaultPlan? Fault { get; private set; }

    public List<AlarmTransition> Raised { get; } = [];

    public double LargestDifferenceVolts { get; private set; }

    /// <summary>Since when each leg beyond the fault has stood by more than 6 V from where a good neutral would put it; null if never.</summary>
    public DateTimeOffset? MovedAt { get; private set; }

    /// <summary>Most readings of one pedestal beyond, from <see cref="MovedAt"/> to the first alarm; null where none came.</summary>
    public int? ReadingsUntilRaised { get; private set; }

    /// <summary>The last cable named is the failed one, or no live meter stands between the two.</summary>
    public bool IsLocated => Raised.Count > 0 && LiveBeyond((string)Raised[^1].Alarm.Evidence["cable"]![1]!).SetEquals(LiveBeyond(Fault!.Cable));

    DockDefinition Dock => site.Docks["H"];

    public static NeutralTwoDays Healthy(long seed)
    {
        var run = new NeutralTwoDays(seed);
        run.Play(TwoDays.Scenario(seed, run.dead));
        return run;
    }

    /// <summary>Any cable with a boat and a live meter beyond, at any time of the two days. Ends 200 s after the legs have moved.</summary>
    public static NeutralTwoDays Failing(long seed, double ohms)
    {
        var run = new NeutralTwoDays(seed);
        var scenario = TwoDays.Scenario(seed, run.dead);
        var cable = run.Dock.Cables.Where(cable => run.LiveBeyond(cable.To).Any(name => name != "F6"))
            .OrderBy(_ => run.random.Between(0, 1)).First().To;
        run.Fault = new(cable, ohms, scenario.Start.AddHours(run.random.Between(0.5, 47)), default);
        run.Play(scenario with { Feeder = scenario.Feeder with { NeutralFaults = [run.Fault] } });
        return run;
    }

    void Play(Scenario scenario)
    {
        var (decoder, monitor) = (new InboundDecoder(site), new DockMonitor(site, Dock));
        foreach (var step in new Simulation(scenario with { Step = TimeSpan.FromSeconds(1) }, site).Steps())
        {
            foreach (var message in step.Arrived)
                if (decoder.Decode(message.Message, message.At).Value is { } inbound)
                {
                    monitor.Take(inbound, message.At);
                    Count(inbound);
                }
            Watch(step.Truth);
            Note(monitor.Step(step.Truth.Time.AddSeconds(1)));
            if (step.Truth.Time > MovedAt?.AddSeconds(200))
                return;
        }
    }

    void Note(DockStep step)
    {
        Raised.AddRange(step.Transitions.Where(
            transition => transition.Alarm is { Kind: AlarmKind.OpenNeutral, State: AlarmState.Unacknowledged }));
        if (MovedAt != null && step.Standing.Any(alarm => alarm.Kind == AlarmKind.OpenNeutral && alarm.State.IsActive()))
            ReadingsUntilRaised ??= readings.Values.DefaultIfEmpty(0).Max();
    }

    void Count(Inbound inbound)
    {
        if (inbound is Reading reading && reading.Time >= MovedAt && LiveBeyond(Fault!.Cable).Contains(reading.Pedestal))
            readings[reading.Pedestal] = readings.GetValueOrDefault(reading.Pedestal) + 1;
    }

    void Watch(Truth truth)
    {
        var dock = truth.Docks["H"];
        foreach (var name in Dock.Pedestals.Keys)
            LargestDifferenceVolts = Math.Max(LargestDifferenceVolts, Math.Abs(dock.Volts(name, Leg.L1) - dock.Volts(name, Leg.L2)));
        if (Fault == null || truth.Local < Fault.From)
            return;
        longSince = LeastMovedVolts(dock.Solution) > 6 ? longSince ?? truth.Time : null;
        if (truth.Time - longSince >= TimeSpan.FromSeconds(Fault.Ohms < NeutralFaultPlan.OpenOhms ? 10 : 0))
            MovedAt ??= longSince;
    }

    /// <summary>By how much the ohms too much have moved the leg that moved least, with the currents as they are.</summary>
    double LeastMovedVolts(Solution solution)
    {
        var (node, neutral) = (solution.Tree.IndexOf(Fault!.Cable), solution.Tree.Neutral);
        var shift = Fault.Ohms * solution.AmpsInto(node, neutral);
        return site.Supply.Legs.Min(leg => Math.Abs(
            solution.ToNeutral(node, (int)leg).Magnitude - (solution.ToNeutral(node, (int)leg) - shift).Magnitude));
    }

    HashSet<string> LiveBeyond(string cable)
    {
        var beyond = new HashSet<string>();
        var next = new Stack<string>([cable]);
        while (next.TryPop(out var at))
        {
            if (!dead.Contains(at))
                beyond.Add(at);
            foreach (var outer in Dock.Cables.Where(outer => outer.From == at))
                next.Push(outer.To);
        }
        return beyond;
    }

    static SiteDefinition Unbalanced(SiteDefinition site, NamedRandom random)
    {
        OutletDefinition OnL1(OutletDefinition outlet) =>
            outlet.Legs.Count == 1 && random.Chance(0.4) ? outlet with { Legs = [Leg.L1] } : outlet;
        var dock = site.Docks["H"];
        var pedestals = dock.Pedestals.ToDictionary(pair => pair.Key, pair => pair.Value with
        {
            Outlets = pair.Value.Outlets.ToDictionary(outlet => outlet.Key, outlet => OnL1(outlet.Value)),
        });
        return site with
        {
            Docks = new Dictionary<string, DockDefinition>
            {
                ["H"] = dock with { Pedestals = new SortedDictionary<string, PedestalDefinition>(pedestals) },
            },
        };
    }
}
