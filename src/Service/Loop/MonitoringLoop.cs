using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Wire;
using Farberth.Service.Journaling;
using Farberth.Service.Views;
using Microsoft.Extensions.Hosting;
using Serilog;

namespace Farberth.Service.Loop;

/// <summary>
/// The one place where messages and time meet the monitor. Each message first brings the ticks that were due at its
/// arrival, so that a replay of the same messages gives the same ticks; when none is waiting, the clock brings them.
/// </summary>
sealed class MonitoringLoop(
    SiteDefinition site, MqttLink link, Outbox outbox, JournalKeeper keeper, LatestView latest, RefusalLog refusalLog, TimeProvider clock, ILogger log)
    : BackgroundService
{
    readonly SiteMonitor monitor = new(site);
    readonly RetainedAlarms retained = new(site);
    readonly RetainedAdvice retainedAdvice = new(site);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var tick = Task.Delay(SiteMonitor.Tick, clock, stoppingToken);
        var arrival = link.Messages.WaitToReadAsync(stoppingToken).AsTask();
        var shown = link.State.Value;
        while (true)
        {
            await Task.WhenAny(tick, arrival).ConfigureAwait(false);
            stoppingToken.ThrowIfCancellationRequested();
            if (arrival.IsCompleted && !await arrival.ConfigureAwait(false))
                return;
            TakeAll();
            Advance(clock.GetUtcNow());
            shown = Tell(shown, link.State.Value);
            if (tick.IsCompleted)
                tick = Task.Delay(SiteMonitor.Tick, clock, stoppingToken);
            if (arrival.IsCompleted)
                arrival = link.Messages.WaitToReadAsync(stoppingToken).AsTask();
        }
    }

    void TakeAll()
    {
        while (link.Messages.TryRead(out var message))
        {
            Advance(message.At);
            retained.Take(message.Message);
            retainedAdvice.Take(message.Message);
            refusalLog.Write(monitor.Take(message).Refusals, monitor.Refusals.Snapshot());
        }
    }

    void Advance(DateTimeOffset now)
    {
        foreach (var step in monitor.Advance(now))
        {
            foreach (var message in Outgoing.State(site.Name, step))
                outbox.Put(message);
            keeper.Take(step, monitor.Refusals.Snapshot(), [.. Outgoing.Changes(site.Name, step), .. retained.Outdated(step), .. retainedAdvice.Outdated(step)]);
            foreach (var transition in step.Transitions)
                log.Information("Alarm {Alarm} from {From} to {State}, {Reason}: {Message}",
                    transition.Alarm.Id, transition.From, transition.Alarm.State, transition.Reason, transition.Alarm.Message);
            foreach (var change in step.Advice.Changes)
                log.Information("Slip {Slip} {Ask} {Amps} A: {Reason}",
                    change.Slip, change.Advice.Ask.Word(), change.Advice.Amps, change.TakenBack ?? change.Advice.Why);
            refusalLog.Write(monitor.Refused(step), monitor.Refusals.Snapshot());
            latest.Set(latest.Value.After(step, monitor.Refusals.Snapshot(), link.State.Value, link.Counts, outbox.Count) with { Rates = monitor.Rates });
        }
    }

    LinkState Tell(LinkState before, LinkState now)
    {
        if (now.Phase != before.Phase)
            log.Information("Link to the broker: {Phase} {Reason}", now.Phase, now.Reason);
        return now;
    }
}
