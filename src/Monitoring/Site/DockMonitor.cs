using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Alarms.Rules;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Outages;
using Farberth.Monitoring.Remembering;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Site;

/// <summary>
/// Watches one dock: what arrives goes in, and each tick a frozen image becomes an estimate, risks, findings, alarm
/// transitions and advice. Deterministic: the same calls give the same results. It knows no clock; one thread at a time.
/// </summary>
public sealed class DockMonitor
{
    readonly SiteDefinition site;
    readonly DockDefinition dock;
    readonly DockTree tree;
    readonly DockInbox inbox;
    readonly DockEstimator estimator;
    readonly DockLearning learning;
    readonly BreakerWatch breakers;
    readonly ContactWatch contacts;
    readonly TransformerWatch transformer;
    readonly StallWatch stalls;
    readonly DockForecaster forecaster;
    readonly OutageWatch outages;
    readonly AlarmBook alarms;
    readonly Adviser adviser;
    readonly EarlyLook early = new();
    readonly List<AlarmCommand> commands = [];
    readonly List<Judged> findings = [];

    public DockMonitor(SiteDefinition site, DockDefinition dock)
    {
        (this.site, this.dock, tree) = (site, dock, new(dock));
        (inbox, estimator, learning) = (new(site, dock), new(site, dock), new(site, dock));
        (breakers, contacts, transformer) = (new(site, dock), new(site, dock), new(site, dock));
        (forecaster, outages, stalls) = (new(site, dock), new(site, dock, tree), new(site));
        (alarms, adviser) = (new(site.AlarmTimings, tree), new(site));
    }

    /// <summary>Goes on from what another one remembered.</summary>
    /// <param name="memory">Fits this site: see <see cref="FittingMemory"/>.</param>
    internal DockMonitor(SiteDefinition site, DockDefinition dock, DockMemory memory)
        : this(site, dock)
    {
        inbox.Resume(memory.Inbox);
        if (memory.Estimator is { } itsEstimator)
            estimator.Resume(itsEstimator);
        learning.Resume(memory.Learning);
        breakers.Resume(memory.Breakers);
        contacts.Resume(memory.Contacts);
        if (memory.Transformer is { } itsTransformer)
            transformer.Resume(itsTransformer);
        if (memory.Forecaster is { } itsForecaster)
            forecaster.Resume(itsForecaster);
        if (memory.Outages is { } itsOutages)
            outages.Resume(itsOutages);
        alarms.Resume(memory.Alarms);
        adviser.Resume(memory.Adviser);
        if (memory.Early is { } itsEarly)
            early.Resume(itsEarly);
        commands.AddRange(memory.Commands);
    }

    internal string Name => dock.Name;

    /// <summary>When it should be stepped before the next tick; null: it can wait.</summary>
    internal DateTimeOffset? LooksAt => early.At;

    /// <summary>The last plan that asked somebody to shed, for whoever wants to check it.</summary>
    internal PlannedShed? LastPlan => adviser.LastPlan;

    /// <summary>What each pedestal that has been heard said last, also since the last tick.</summary>
    internal IEnumerable<Reading> Newest => inbox.Newest;

    /// <summary>Takes in what concerns this dock and leaves the rest.</summary>
    public void Take(Inbound inbound, DateTimeOffset arrivedAt)
    {
        if (inbound is AlarmCommand command)
        {
            if (command.IsFor(dock.Name))
                commands.Add(command);
        }
        else if (inbox.Take(inbound, arrivedAt))
        {
            early.Want(arrivedAt);
        }
    }

    List<Judged> Judge(DockPicture picture)
    {
        findings.Clear();
        foreach (var rule in AlarmRules.All)
            foreach (var finding in rule.Judge(picture))
                findings.Add(new(rule.Kind, finding));
        return findings;
    }

    /// <summary>One tick, or a look between two.</summary>
    public DockStep Step(DateTimeOffset now)
    {
        var image = inbox.Freeze(now);
        var estimate = estimator.Estimate(image, learning.Learned);
        var learned = learning.Tick(image, estimate);
        var outlets = OutletRisk.Of(site, image, estimate, learned, contacts.Tick(image), breakers.Tick(image, estimate.RacewayCelsius));
        var picture = new DockPicture(site, dock, image, estimate, learned, outlets)
        {
            Tree = tree,
            Transformer = transformer.Tick(image, estimate),
            Forecast = forecaster.Tick(image, estimate, learned),
            Outages = outages.Tick(image),
            Stalled = stalls.Tick(image),
            Recalled = commands.Count > 0 ? RecalledAlarms.Everywhere : alarms.Recalled,
        };
        var step = alarms.Step(image.IsWhole ? Judge(picture) : [], [.. commands], now);
        commands.Clear();
        early.Looked(now, () => alarms.NextRaise(now));
        var standing = alarms.Standing;
        return new(picture, step.Transitions, standing, adviser.Tick(picture, standing, step.Transitions.Count > 0)) { Refused = step.Refused, Flow = alarms.Flow };
    }

    /// <summary>All that lasts from one tick to the next, as it stands between two.</summary>
    internal DockMemory Memory() => new(
        DockShape.Of(site, dock), inbox.Memory(), estimator.Memory(), learning.Memory(), breakers.Memory(), contacts.Memory(),
        transformer.Memory(), forecaster.Memory(), outages.Memory(), alarms.Memory(), adviser.Memory(), [.. commands], early.Memory());

    /// <summary>The same dock after a time in which nobody listened, or by a clock that has jumped.</summary>
    internal DockMonitor After(DateTimeOffset last, DateTimeOffset now) => new(site, dock, TimeAway.After(Memory(), last, now));
}

/// <summary>What one tick of one dock gave.</summary>
/// <param name="Standing">Every alarm that is not normal, by id.</param>
/// <param name="Advice">What is asked of the boaters.</param>
public sealed record DockStep(
    DockPicture Picture, IReadOnlyList<AlarmTransition> Transitions, IReadOnlyList<Alarm> Standing, DockAdvice Advice)
{
    /// <summary>What people asked for in vain.</summary>
    public IReadOnlyList<RefusedCommand> Refused { get; init; } = [];

    public AlarmFlow Flow { get; init; } = AlarmFlow.Calm;

    public DateTimeOffset Now => Picture.Image.Now;
}
