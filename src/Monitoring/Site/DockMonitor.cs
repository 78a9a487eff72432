using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Alarms.Rules;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Site;

/// <summary>
/// Watches one dock: what arrives goes in, and each tick a frozen image becomes an estimate, risks, findings and alarm
/// transitions. Deterministic: the same calls give the same results. It knows no clock; one thread at a time.
/// </summary>
public sealed class DockMonitor(SiteDefinition site, DockDefinition dock)
{
    readonly DockInbox inbox = new(site, dock);
    readonly DockEstimator estimator = new(site, dock);
    readonly DockLearning learning = new(site, dock);
    readonly AlarmBook alarms = new(site.AlarmTimings);
    readonly List<Acknowledgement> acknowledgements = [];

    /// <summary>Takes in what concerns this dock and leaves the rest.</summary>
    public void Take(Inbound inbound, DateTimeOffset arrivedAt)
    {
        if (inbound is Acknowledgement acknowledgement)
            acknowledgements.Add(acknowledgement);
        else
            inbox.Take(inbound, arrivedAt);
    }

    /// <summary>One tick.</summary>
    public DockStep Step(DateTimeOffset now)
    {
        var image = inbox.Freeze(now);
        var estimate = estimator.Estimate(image, learning.Learned);
        var learned = learning.Tick(image, estimate);
        var picture = new DockPicture(site, dock, image, estimate, learned, OutletRisk.Of(site, image, estimate, learned));
        var transitions = new List<AlarmTransition>();
        transitions.AddRange(acknowledgements.Select(ack => alarms.Acknowledge(ack.AlarmId, ack.By, now)).OfType<AlarmTransition>());
        acknowledgements.Clear();
        if (image.IsWhole)
            transitions.AddRange(
                from rule in AlarmRules.All
                from finding in rule.Judge(picture)
                from transition in alarms.Take(rule.Kind, finding, now)
                select transition);
        return new(picture, transitions, alarms.Standing);
    }
}

/// <summary>What one tick of one dock gave.</summary>
/// <param name="Standing">Every alarm that is not normal, by id.</param>
public sealed record DockStep(
    DockPicture Picture, IReadOnlyList<AlarmTransition> Transitions, IReadOnlyList<Alarm> Standing)
{
    public DateTimeOffset Now => Picture.Image.Now;
}
