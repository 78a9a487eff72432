using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Wire;

/// <summary>
/// The messages that follow from a tick: the dock's state, its forecast when there is a new one, every alarm that took a step, and every
/// change of what is asked of a slip. All retained.
/// </summary>
public static class Outgoing
{
    public static IEnumerable<WireMessage> Of(string site, DockStep step) => [.. State(site, step), .. Changes(site, step)];

    /// <summary>How things stand: the dock's state and its forecast. The next tick's take their place.</summary>
    public static IEnumerable<WireMessage> State(string site, DockStep step)
    {
        if (!step.Picture.Image.IsWhole)
            yield break;
        yield return new($"farberth/v1/{site}/dock/{step.Picture.Dock.Name}/state", DockStateJson.Of(step), Retain: true);
        if (step.Picture.Forecast is { } forecast && forecast.Time == step.Now)
            yield return new(
                $"farberth/v1/{site}/dock/{step.Picture.Dock.Name}/forecast",
                DockForecastJson.Of(forecast, step.Picture.Dock.Name, step.Picture.Site.Limits.Volts), Retain: true);
    }

    /// <summary>What has happened, which must not be forgotten: alarms that took a step, and what is asked of slips.</summary>
    public static IEnumerable<WireMessage> Changes(string site, DockStep step)
    {
        if (!step.Picture.Image.IsWhole)
            yield break;
        foreach (var transition in step.Transitions)
            yield return Of(site, transition.Alarm);
        foreach (var change in step.Advice.Changes)
            yield return Of(site, change);
    }

    /// <summary>Every alarm that is not normal and all that is asked of slips: what the broker should hold.</summary>
    public static IEnumerable<WireMessage> Standing(string site, DockStep step) =>
        step.Standing.Select(alarm => Of(site, alarm)).Concat(
            step.Advice.Standing.Select(advice => new WireMessage(AdviceTopic(site, advice.Slip), AdviceJson.Of(advice), Retain: true)));

    public static string AdviceTopic(string site, string slip) => $"farberth/v1/{site}/slip/{slip}/advice";

    /// <summary>An empty payload when nothing is asked any more.</summary>
    static WireMessage Of(string site, AdviceChange change) => new(
        AdviceTopic(site, change.Slip),
        change.TakenBack != null ? ReadOnlyMemory<byte>.Empty : AdviceJson.Of(change.Advice),
        Retain: true);

    /// <summary>An empty payload takes a retained alarm away once it is normal.</summary>
    static WireMessage Of(string site, Alarm alarm) => new(
        $"farberth/v1/{site}/alarm/{alarm.Id}",
        alarm.State == AlarmState.Normal ? ReadOnlyMemory<byte>.Empty : AlarmJson.Of(alarm),
        Retain: true);
}
