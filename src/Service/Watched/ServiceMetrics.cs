using System.Diagnostics.Metrics;
using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Service.Journaling;
using Farberth.Service.LongHistory;
using Farberth.Service.Views;

namespace Farberth.Service.Watched;

/// <summary>
/// What the service counts and measures of itself. Most of it is read from the latest view when somebody asks, so that
/// numbers here and on the page cannot differ; messages are counted to the moment. docs/operations says what each means.
/// </summary>
sealed class ServiceMetrics : IDisposable
{
    public const string MeterName = "Farberth";

    // From a small dock's tenth of a millisecond to a tick that takes the whole second there is for it.
    static readonly double[] TickSeconds = [0.0001, 0.0002, 0.0003, 0.0005, 0.001, 0.002, 0.003, 0.005, 0.01, 0.03, 0.1, 0.3, 1];

    readonly Meter meter = new(MeterName);
    readonly Histogram<double> tick;
    readonly Counter<long> notifications, storeFailures;

    public ServiceMetrics(LatestView latest, MqttLink link, Forwarding forwarding, JournalKeeper keeper, TimeProvider clock)
    {
        tick = meter.CreateHistogram<double>("farberth.tick.duration", "s", "Time to judge one dock once.", advice: new() { HistogramBucketBoundaries = TickSeconds });
        notifications = meter.CreateCounter<long>("farberth.notifications", description: "Attempts to tell somebody, by channel and outcome.");
        storeFailures = meter.CreateCounter<long>("farberth.store.failures", description: "Times a store did not take what it was given, by store.");
        ObserveLink(link, () => latest.Value);
        ObserveIntake(() => latest.Value);
        ObserveDocks(() => latest.Value, clock);
        ObserveForwarding(forwarding);
        ObserveJournal(() => keeper.State);
    }

    /// <summary>Measures each step as it is taken.</summary>
    public IEnumerable<DockStep> Timed(IEnumerable<DockStep> steps)
    {
        using var each = steps.GetEnumerator();
        while (true)
        {
            var began = TimeProvider.System.GetTimestamp();
            if (!each.MoveNext())
                yield break;
            tick.Record(TimeProvider.System.GetElapsedTime(began).TotalSeconds);
            yield return each.Current;
        }
    }

    /// <summary>What has become of attempts to tell somebody.</summary>
    public void Notified(IReadOnlyList<OutboxRow> rows)
    {
        foreach (var row in rows)
            notifications.Add(1, new("channel", row.Channel.ToString().ToLowerInvariant()), new("outcome", row.State.ToString().ToLowerInvariant()));
    }

    public void StoreFailed(string store) => storeFailures.Add(1, new KeyValuePair<string, object?>("store", store));

    public void Dispose() => meter.Dispose();

    void ObserveJournal(Func<JournalState> journal)
    {
        meter.CreateObservableGauge("farberth.journal.waiting", () => journal().Waiting, description: "Parts of what happened that are not written down yet.");
        meter.CreateObservableGauge("farberth.journal.reached", () => journal().Away is null ? 1 : 0, description: "1 while the journal takes what happens.");
        meter.CreateObservableCounter("farberth.journal.told_first", () => journal().ToldFirst, description: "Events that people were told before they were written down.");
        meter.CreateObservableCounter("farberth.journal.lost", () => journal().Lost, description: "Parts that will never be written down.");
    }

    void ObserveLink(MqttLink link, Func<SiteView> view)
    {
        void Count(string name, Func<LinkCounts, long> count, string description) =>
            meter.CreateObservableCounter(name, () => count(link.Counts), description: description);
        meter.CreateObservableGauge("farberth.broker.connected", () => view().Link.Phase == LinkPhase.Connected ? 1 : 0, description: "1 while the link to the broker stands.");
        Count("farberth.broker.connections", counts => counts.Connections, "Times the link to the broker came about.");
        Count("farberth.messages.received", counts => counts.Received, "Messages taken from the broker.");
        Count("farberth.messages.acknowledged", counts => counts.Acknowledged, "Messages confirmed to the broker.");
        Count("farberth.messages.lost", counts => counts.Lost, "Messages at QoS 0 that were under way when the link let go.");
        Count("farberth.messages.published", counts => counts.Published, "Messages that the broker has confirmed.");
        Count("farberth.messages.not_published", counts => counts.NotPublished, "Publishes that the broker has not confirmed.");
        meter.CreateObservableGauge("farberth.messages.to_publish", () => view().ToPublish, description: "Messages that wait for the broker.");
        meter.CreateObservableCounter("farberth.messages.refused", () => view().Refusals.Select(refused =>
            new Measurement<long>(refused.Value.Count, new KeyValuePair<string, object?>("reason", refused.Key.Word()))), description: "Messages or parts of them that were not taken, by reason.");
    }

    void ObserveIntake(Func<SiteView> view)
    {
        meter.CreateObservableGauge("farberth.intake.size", () => view().Intake.Bytes, "By", "The intake log on disk.");
        meter.CreateObservableGauge("farberth.intake.unread", () => view().Intake.Unread, "By", "Of it, what not every reader has passed.");
        meter.CreateObservableGauge("farberth.intake.held", () => view().Intake.Held, description: "Messages taken and not yet on disk.");
        meter.CreateObservableCounter("farberth.intake.lost", () => view().Intake.Lost, description: "Messages that went because the intake log was full.");
        meter.CreateObservableGauge("farberth.intake.durable", () => view().Intake.IsDurable ? 1 : 0, description: "1 while the disk takes what arrives.");
    }

    void ObserveDocks(Func<SiteView> view, TimeProvider clock)
    {
        meter.CreateObservableGauge("farberth.alarms.standing", () => Enum.GetValues<Priority>().Select(priority => new Measurement<int>(
            view().Standing.Count(alarm => alarm.State.IsActive() && alarm.Priority == priority),
            new KeyValuePair<string, object?>("priority", priority.ToString().ToLowerInvariant()))), description: "Alarms that stand now, by priority.");
        meter.CreateObservableGauge("farberth.readings.age", () => ServiceHealth.NewestReadingAge(view(), clock.GetUtcNow()) is { } age
            ? [new Measurement<double>(age.TotalSeconds)] : Array.Empty<Measurement<double>>(), "s", "Since any pedestal was heard.");
    }

    void ObserveForwarding(Forwarding forwarding)
    {
        IEnumerable<Measurement<T>> Each<T>(Func<Carried, T> value) where T : struct => forwarding.Now.Select(carried =>
            new Measurement<T>(value(carried), new KeyValuePair<string, object?>("log", carried.Name)));
        meter.CreateObservableGauge("farberth.history.waiting", () => Each(carried => carried.State.WaitingBytes), "By", "Waits for InfluxDB, by log.");
        meter.CreateObservableGauge("farberth.history.lag", () => Each(carried => carried.State.WaitingFor.TotalSeconds), "s", "Age of the oldest message that waits for InfluxDB.");
        meter.CreateObservableGauge("farberth.history.fill", () => Each(carried => carried.Fill), "1", "Share of what the log can hold that waits for InfluxDB.");
        meter.CreateObservableCounter("farberth.history.points", () => Each(carried => carried.State.Points), description: "Points that InfluxDB has confirmed.");
        meter.CreateObservableCounter("farberth.history.failures", () => Each(carried => carried.State.Failures), description: "Requests to InfluxDB that had to be sent again.");
        meter.CreateObservableCounter("farberth.history.set_aside", () => Each(carried => carried.State.SetAside), description: "Points that InfluxDB does not take.");
        meter.CreateObservableCounter("farberth.history.missed", () => Each(carried => carried.State.MissedBytes), "By", "Went from the log before InfluxDB had taken it.");
    }
}
