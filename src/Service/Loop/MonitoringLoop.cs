using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Wire;
using Farberth.Service.Journaling;
using Farberth.Service.LongHistory;
using Farberth.Service.Views;
using Farberth.Service.Watched;
using Microsoft.Extensions.Hosting;
using Serilog;

namespace Farberth.Service.Loop;

/// <summary>
/// The one place where messages and time meet the monitor. Each message first brings the ticks that were due at its
/// arrival, so that a replay of the same messages gives the same ticks; when none is waiting, the clock brings them.
/// </summary>
sealed class MonitoringLoop(
    SiteDefinition site, MqttLink link, Intake intake, Asking asking, Checkpoints checkpoints, MonitorAtStart start, Outbox outbox, JournalKeeper keeper,
    LatestView latest, RefusalLog refusalLog, Forwarding forwarding, ServiceMetrics metrics, TimeProvider clock, ILogger log)
    : BackgroundService
{
    /// <summary>So often the loop looks by itself whether a tick is due or something is to be shown.</summary>
    static readonly TimeSpan Look = TimeSpan.FromMilliseconds(250);

    /// <summary>What pedestals say is on the screen within a second also where it has just missed a tick; twice a second is enough for that.</summary>
    static readonly TimeSpan BetweenViews = TimeSpan.FromMilliseconds(450);

    readonly SiteMonitor monitor = start.Monitor;
    readonly RetainedAlarms retained = new(site);
    readonly RetainedAdvice retainedAdvice = new(site);
    SiteView view = latest.Value;

    /// <summary>What stands is said now; before, only what has happened is written down.</summary>
    bool isCaughtUp;

    /// <summary>A reading has come that is in no view yet.</summary>
    bool hasHeard;

    long shownAt;

    /// <summary>Docks of which an earlier run may have written down what it had not yet said, or whose alarms the broker may have lost.</summary>
    readonly HashSet<string> owed = start.IsRestored ? [.. site.Docks.Keys] : [];

    long connections;

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        CatchUp();
        try
        {
            await Watch(stoppingToken).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // Ended between two batches: the monitor has heard all that the log has given.
            if (IsWrittenDown)
                await checkpoints.KeepLast(monitor, intake.Position).ConfigureAwait(false);
            throw;
        }
    }

    /// <summary>What the checkpoint does not know yet is in the log; then the time away is over.</summary>
    void CatchUp()
    {
        keeper.Begin(monitor.Refusals.Snapshot());
        foreach (var message in intake.Earlier())
            Take(message);
        if (start.IsRestored)
        {
            var now = clock.GetUtcNow();
            intake.MarkReturn(now);
            monitor.Resumed(now);
        }
        isCaughtUp = true;
        Show();
    }

    async Task Watch(CancellationToken stop)
    {
        var (look, wakes) = Sleep(stop);
        var ticked = DateTimeOffset.MinValue;
        // Whatever became of the link before the first look is told too.
        var (linkShown, intakeShown) = (new LinkState(LinkPhase.Connecting), intake.State);
        while (true)
        {
            await Task.WhenAny(look, intake.WhenMore(stop)).ConfigureAwait(false);
            stop.ThrowIfCancellationRequested();
            if (intake.IsClosed)
                return;
            foreach (var message in await intake.Next(clock.GetUtcNow(), ticked).ConfigureAwait(false))
                Take(message);
            ticked = clock.GetUtcNow();
            OweAfterReconnection();
            Advance(ticked, isByClock: true);
            if (hasHeard && clock.GetElapsedTime(shownAt) >= BetweenViews)
                ShowReadings();
            if (IsWrittenDown)
                checkpoints.Keep(monitor, intake.Position, clock.GetUtcNow());
            (linkShown, intakeShown) = (Tell(linkShown, link.State.Value), Tell(intakeShown, intake.State));
            if (look.IsCompleted || monitor.LooksAt < wakes)
                (look, wakes) = Sleep(stop);
        }
    }

    /// <summary>Until it looks by itself again, or until a dock should be looked at before.</summary>
    (Task Look, DateTimeOffset Wakes) Sleep(CancellationToken stop)
    {
        var now = clock.GetUtcNow();
        var wakes = monitor.LooksAt is { } at && at < now + Look ? at : now + Look;
        return (Task.Delay(wakes > now ? wakes - now : TimeSpan.Zero, clock, stop), wakes);
    }

    /// <summary>What arrived is in the log, and what followed from it in the journal: a monitor that goes on from here owes nothing.</summary>
    bool IsWrittenDown => intake.State.IsDurable && keeper.State is { Away: null, Waiting: 0 };

    void Take(RecordedMessage message)
    {
        if (Intake.IsReturn(message))
        {
            monitor.Resumed(message.At);
            return;
        }
        Advance(message.At, isByClock: false);
        if (Intake.IsMark(message))
            return;
        retained.Take(message.Message);
        retainedAdvice.Take(message.Message);
        var decoded = monitor.Take(message);
        asking.Heard(message, decoded);
        hasHeard |= decoded.Value is Reading;
        refusalLog.Write(decoded.Refusals, monitor.Refusals.Snapshot());
    }

    void Advance(DateTimeOffset now, bool isByClock)
    {
        foreach (var step in metrics.Timed(monitor.Advance(now)))
        {
            if (isByClock && (step.Transitions.Count > 0 || step.Advice.Changes.Count > 0))
                intake.Mark(step.Now);
            List<WireMessage> state = [.. Outgoing.State(site.Name, step)], changes = [.. Outgoing.Changes(site.Name, step)];
            if (forwarding.Told?.Take(step.Now, [.. state, .. changes]) is false)
                metrics.StoreFailed("states");
            if (isCaughtUp)
                Say(step, state);
            keeper.Take(step, monitor.Refusals.Snapshot(), [.. changes, .. retained.Outdated(step), .. retainedAdvice.Outdated(step)]);
            foreach (var transition in step.Transitions)
                log.Information("Alarm {Alarm} from {From} to {State}, {Reason}: {Message}",
                    transition.Alarm.Id, transition.From, transition.Alarm.State, transition.Reason, transition.Alarm.Message);
            foreach (var change in step.Advice.Changes)
                log.Information("Slip {Slip} {Ask} {Amps} A: {Reason}",
                    change.Slip, change.Advice.Ask.Word(), change.Advice.Amps, change.TakenBack ?? change.Advice.Why);
            refusalLog.Write(monitor.Refused(step), monitor.Refusals.Snapshot());
            view = view.After(step, monitor.Refusals.Snapshot(), link.State.Value, link.Counts, outbox.Count) with { Rates = monitor.Rates, Intake = intake.State };
            if (isCaughtUp)
                Show();
            asking.Judged(step);
        }
    }

    void Show()
    {
        latest.Set(view);
        (hasHeard, shownAt) = (false, clock.GetTimestamp());
    }

    /// <summary>Between two ticks: what was last judged, with what pedestals have said since.</summary>
    void ShowReadings()
    {
        view = view with { Heard = monitor.Newest.ToDictionary(reading => reading.Pedestal) };
        Show();
    }

    void Say(DockStep step, IReadOnlyList<WireMessage> state)
    {
        var again = step.Picture.Image.IsWhole && owed.Remove(step.Picture.Dock.Name) ? Outgoing.Standing(site.Name, step) : [];
        foreach (var message in state.Concat(again))
            outbox.Put(message);
    }

    /// <summary>A broker that was killed has lost what was retained since it last saved: what stands is said again.</summary>
    void OweAfterReconnection()
    {
        var before = connections;
        connections = link.Counts.Connections;
        if (before > 0 && connections > before)
            owed.UnionWith(site.Docks.Keys);
    }

    LinkState Tell(LinkState before, LinkState now)
    {
        if (now.Phase != before.Phase)
            log.Information("Link to the broker: {Phase} {Reason}", now.Phase, now.Reason);
        return now;
    }

    IntakeState Tell(IntakeState before, IntakeState now)
    {
        if (!now.IsDurable && before.IsDurable)
            metrics.StoreFailed("intake");
        if (!now.IsDurable && before.Problem != now.Problem)
            log.Error("The disk takes no readings: {Problem}. Nothing is acknowledged to the broker, which keeps them; the dock is still watched", now.Problem);
        if (now.IsDurable && !before.IsDurable)
            log.Information("The disk takes readings again, after {Problem} since {Since:O}", before.Problem, before.Since);
        if (now.Lost > before.Lost)
            log.Error("The intake log is full: {Lost} messages that not everybody had read are gone", now.Lost);
        return now;
    }
}
