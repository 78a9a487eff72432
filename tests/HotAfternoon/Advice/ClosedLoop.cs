using Farberth.Grid.Network;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon.Tests.Advice;

/// <summary>What the people aboard do with what they are asked.</summary>
/// <param name="IgnoresShare">Chance that a request is not followed at all.</param>
sealed record People(bool Hear, double IgnoresShare, bool EverythingOff = false)
{
    public static readonly People Deaf = new(false, 1);
    public static readonly People Follow = new(true, 0);
    public static readonly People WithoutAnything = new(false, 1, EverythingOff: true);
}

/// <summary>
/// One afternoon with the service's own monitor in the loop: readings go to it, its requests go to the boats, and after two to eight
/// minutes somebody aboard switches off appliances of about the amps that were asked. Ten seconds a tick.
/// </summary>
sealed class ClosedLoop
{
    readonly Simulation simulation;
    readonly SiteDefinition site;
    readonly DockMonitor monitor;
    readonly NamedRandom random;
    readonly People people;
    readonly SortedDictionary<string, (DateTimeOffset At, BoaterAdvice Advice)> intended = new(StringComparer.Ordinal);
    readonly Dictionary<string, BoaterAdvice> doing = [];

    /// <param name="site">As the monitor knows it; the simulated dock is the demo's.</param>
    public ClosedLoop(SiteDefinition site, Scenario scenario, People people)
    {
        (this.site, this.people, random) = (site, people, new NamedRandom(scenario.Seed, "people"));
        monitor = new DockMonitor(site, site.Docks["H"]);
        simulation = new Simulation(scenario, HotAfternoons.Site);
        if (people.EverythingOff)
            foreach (var pedestal in site.Docks["H"].Pedestals.Values)
                foreach (var outlet in pedestal.Outlets.Values)
                    foreach (var leg in outlet.Legs)
                        simulation.Requests.Shed(new(pedestal.Name, outlet.Name), leg, double.PositiveInfinity);
        Run();
    }

    /// <summary>Of every ten seconds: when, and the lowest volts of any pedestal, of truth, as the mean of the last minute.</summary>
    public List<(DateTimeOffset At, double Volts)> Lowest { get; } = [];

    public List<AdviceChange> Changes { get; } = [];

    public List<PlannedShed> Plans { get; } = [];

    /// <summary>What the first plan asked for, and the least that the true dock would have needed at that moment, without and with the same margin.</summary>
    public (double Planned, double? Least, double? LeastWithMargin)? First { get; private set; }

    public List<Shortfall> NotEnough { get; } = [];

    public double LowVolts => AdviceLimits.LowVolts(site);

    /// <summary>The longest stretch below a band.</summary>
    public TimeSpan LongestBelow(double volts)
    {
        var (longest, now) = (0, 0);
        foreach (var (_, lowest) in Lowest)
            longest = Math.Max(longest, now = lowest < volts ? now + 1 : 0);
        return 10 * TimeSpan.FromSeconds(longest);
    }

    public double MinutesBelow(double volts) => Lowest.Count(one => one.Volts < volts) / 6.0;

    void Run()
    {
        var decoder = new InboundDecoder(site);
        var minute = new Queue<double>();
        foreach (var step in simulation.Steps())
        {
            if (people.Hear)
                foreach (var message in step.Arrived)
                    if (decoder.Decode(message.Message, message.At).Value is { } inbound)
                        monitor.Take(inbound, message.At);
            var (truth, now) = (step.Truth.Docks["H"], step.Truth.Time + TimeSpan.FromSeconds(10));
            minute.Enqueue(site.Docks["H"].Pedestals.Keys.Min(name => Math.Min(truth.Volts(name, Leg.L1), truth.Volts(name, Leg.L2))));
            if (minute.Count > 6)
                minute.Dequeue();
            Lowest.Add((now, minute.Average()));
            if (people.Hear)
                Tick(now, truth);
        }
    }

    void Tick(DateTimeOffset now, DockTruth truth)
    {
        var before = monitor.LastPlan;
        var advice = monitor.Step(now).Advice;
        if (monitor.LastPlan is { } plan && plan != before)
        {
            Plans.Add(plan);
            var margin = 1 + site.AlarmTimings[Monitoring.Alarms.AlarmKind.Undervoltage].Deadband;
            First ??= (plan.Plan.Amps.Sum(), TrueLeast.Of(truth, site, LowVolts), TrueLeast.Of(truth, site, LowVolts * margin * margin));
        }
        NotEnough.AddRange(advice.NotEnough);
        Changes.AddRange(advice.Changes);
        foreach (var change in advice.Changes)
            Hear(change, now);
        foreach (var (slip, (_, wanted)) in intended.Where(one => one.Value.At <= now).ToList())
        {
            intended.Remove(slip);
            Do(slip, wanted);
        }
    }

    void Hear(AdviceChange change, DateTimeOffset now)
    {
        intended.Remove(change.Slip);
        if (change.TakenBack != null)
            Undo(change.Slip);
        else if (change.Advice.Legs.Count > 0 && !doing.ContainsKey(change.Slip) && !random.Chance(people.IgnoresShare))
            intended[change.Slip] = (now + TimeSpan.FromMinutes(random.Between(2, 8)), change.Advice);
    }

    void Do(string slip, BoaterAdvice advice)
    {
        doing[slip] = advice;
        foreach (var leg in advice.Legs.Where(leg => leg.Amps > 0))
            simulation.Requests.Shed(Name(leg.Outlet), leg.Leg, leg.Amps);
    }

    void Undo(string slip)
    {
        if (doing.Remove(slip, out var done))
            foreach (var leg in done.Legs)
                simulation.Requests.Restore(Name(leg.Outlet), leg.Leg);
    }

    static OutletName Name(OutletKey outlet) => new(outlet.Pedestal, outlet.Outlet);
}
