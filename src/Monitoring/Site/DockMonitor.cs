using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Alarms.Rules;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Outages;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Site;

/// <summary>
/// Watches one dock: what arrives goes in, and each tick a frozen image becomes an estimate, risks, findings, alarm
/// transitions and advice. Deterministic: the same calls give the same results. It knows no clock; one thread at a time.
/// </summary>
public sealed class DockMonitor(SiteDefinition site, DockDefinition dock)
{
    readonly DockInbox inbox = new(site, dock);
    readonly DockEstimator estimator = new(site, dock);
    readonly DockLearning learning = new(site, dock);
    readonly BreakerWatch breakers = new(site, dock);
    readonly ContactWatch contacts = new(site, dock);
    readonly TransformerWatch transformer = new(site, dock);
    readonly DockForecaster forecaster = new(site, dock);
    readonly OutageWatch outages = new(site, dock, new DockTree(dock));
    readonly AlarmBook alarms = new(site.AlarmTimings, new DockTree(dock));
    readonly Adviser adviser = new(site);
    readonly List<AlarmCommand> commands = [];

    /// <summary>The last plan that asked somebody to shed, for whoever wants to check it.</summary>
    internal PlannedShed? LastPlan => adviser.LastPlan;

    /// <summary>Takes in what concerns this dock and leaves the rest.</summary>
    public void Take(Inbound inbound, DateTimeOffset arrivedAt)
    {
        if (inbound is not AlarmCommand command)
            inbox.Take(inbound, arrivedAt);
        else if (AlarmAddress.Dock(command.AlarmId) == dock.Name)
            commands.Add(command);
    }

    /// <summary>One tick.</summary>
    public DockStep Step(DateTimeOffset now)
    {
        var image = inbox.Freeze(now);
        var estimate = estimator.Estimate(image, learning.Learned);
        var learned = learning.Tick(image, estimate);
        var outlets = OutletRisk.Of(site, image, estimate, learned, contacts.Tick(image), breakers.Tick(image, estimate.RacewayCelsius));
        var picture = new DockPicture(site, dock, image, estimate, learned, outlets)
        {
            Transformer = transformer.Tick(image, estimate),
            Forecast = forecaster.Tick(image, estimate, learned),
            Outages = outages.Tick(image),
        };
        var findings = image.IsWhole
            ? AlarmRules.All.SelectMany(rule => rule.Judge(picture), (rule, finding) => new Judged(rule.Kind, finding)).ToList() : [];
        var step = alarms.Step(findings, [.. commands], now);
        commands.Clear();
        var standing = alarms.Standing;
        return new(picture, step.Transitions, standing, adviser.Tick(picture, standing, step.Transitions.Count > 0)) { Refused = step.Refused, Flow = alarms.Flow };
    }
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
