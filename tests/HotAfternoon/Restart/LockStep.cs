using System.Text;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Remembering;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Wire;

namespace Farberth.HotAfternoon.Tests.Restart;

/// <summary>A monitor, and after a cut a second one that goes on from its memory: at every tick both must say the same.</summary>
sealed class LockStep(SiteDefinition site)
{
    readonly SiteMonitor undisturbed = new(site);
    SiteMonitor? restored;

    /// <summary>What was sent for the latest tick.</summary>
    public DockStep? Last { get; private set; }

    public SiteMonitor Undisturbed => undisturbed;

    /// <summary>The service ends here and begins again.</summary>
    public void Restart()
    {
        restored = Restored(undisturbed);
        Assert.Empty(restored.Forgotten);
        Assert.True(RememberedState.Differences(undisturbed, restored).Count == 0, string.Join("\n", RememberedState.Differences(undisturbed, restored)));
    }

    public void Part() => restored = null;

    public void Take(RecordedMessage message)
    {
        undisturbed.Take(message);
        restored?.Take(message);
    }

    public void Advance(DateTimeOffset now)
    {
        var steps = undisturbed.Advance(now).ToList();
        Last = steps.LastOrDefault() ?? Last;
        if (restored is null)
            return;
        var others = restored.Advance(now).ToList();
        Assert.Equal(steps.Select(step => Said(undisturbed, step)), others.Select(step => Said(restored, step)));
    }

    public static SiteMonitor Restored(SiteMonitor monitor)
    {
        var read = SiteMemory.Read(monitor.Memory().ToBytes());
        Assert.True(read.Problem == null, read.Problem);
        return new SiteMonitor(monitor.Site, read.Memory!);
    }

    /// <summary>All that a tick gives: state, forecast, transitions, requests, and what people see of it in counts.</summary>
    static string Said(SiteMonitor monitor, DockStep step)
    {
        var said = new StringBuilder().Append(step.Now.ToString("O"));
        foreach (var message in Outgoing.Of(monitor.Site.Name, step))
            said.Append('\n').Append(message.Topic).Append(' ').Append(Encoding.UTF8.GetString(message.Payload.Span));
        foreach (var transition in step.Transitions)
            said.Append('\n').Append(transition.From).Append(' ').Append(transition.Reason).Append(' ').Append(Encoding.UTF8.GetString(AlarmJson.Of(transition)));
        said.Append('\n').AppendJoin(' ', step.Standing.Select(alarm => $"{alarm.Id}:{alarm.State.Word()}"));
        said.Append('\n').AppendJoin(' ', step.Advice.Standing.Select(advice => $"{advice.Slip}:{advice.Amps}"));
        said.Append('\n').AppendJoin(' ', step.Advice.NotEnough).Append(' ').Append(step.Flow);
        said.Append('\n').AppendJoin(' ', step.Picture.Outlets.Select(risk => $"{risk.Trip} {risk.Contact?.Celsius} {risk.Contact?.RiskCelsius} {risk.Contact?.JacketCelsius} {risk.Contact?.MinutesToLimit}"));
        said.Append('\n').AppendJoin(' ', monitor.Refusals.Snapshot().Select(pair => $"{pair.Key}:{pair.Value.Count}"));
        var rates = monitor.Rates;
        return said.Append('\n').Append(rates.Raised).Append(' ').AppendJoin(' ', rates.Loads).AppendJoin(' ', rates.Top).ToString();
    }
}
