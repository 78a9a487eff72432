using System.Collections.Immutable;
using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Alarms.Rates;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Service.Loop;

namespace Farberth.Service.Views;

/// <summary>All that can be seen of a site at one moment, for the page, the API and the terminal. Immutable.</summary>
/// <param name="Now">By the service's clock; null before the first tick.</param>
/// <param name="Docks">The latest step of each dock, by name.</param>
/// <param name="ToPublish">Messages that wait for the broker.</param>
public sealed record SiteView(
    SiteDefinition Site,
    DateTimeOffset? Now,
    ImmutableSortedDictionary<string, DockStep> Docks,
    AlarmHistory History,
    ImmutableSortedDictionary<RefusalReason, RefusalTally> Refusals,
    LinkState Link,
    LinkCounts Counts,
    int ToPublish)
{
    /// <summary>How many alarms people got.</summary>
    public AlarmRates Rates { get; init; } = AlarmRates.None;

    /// <summary>Whether what arrives gets onto the disk.</summary>
    public IntakeState Intake { get; init; } = new();

    public static SiteView AtStart(SiteDefinition site) => new(
        site, null, ImmutableSortedDictionary.Create<string, DockStep>(StringComparer.Ordinal), AlarmHistory.Empty,
        ImmutableSortedDictionary<RefusalReason, RefusalTally>.Empty, new(LinkPhase.Connecting), new(0, 0, 0, 0, 0, 0, 0, 0), 0);

    /// <summary>The newest reading of each pedestal since the tick, by name: to be seen, and judged at the next one.</summary>
    public IReadOnlyDictionary<string, Reading> Heard { get; init; } = ImmutableDictionary<string, Reading>.Empty;

    /// <summary>Every alarm that is not normal: high priority first, then the one that has stood longest, then as one counts.</summary>
    public IEnumerable<Alarm> Standing => Docks.Values.SelectMany(step => step.Standing).OrderByDescending(alarm => alarm.State.IsActive())
        .ThenByDescending(alarm => alarm.Priority).ThenBy(alarm => alarm.Since).ThenBy(alarm => AsCounted.Key(alarm.Id), StringComparer.Ordinal);

    public SiteView After(
        DockStep step, ImmutableSortedDictionary<RefusalReason, RefusalTally> refusals, LinkState link, LinkCounts counts, int toPublish) =>
        new(Site, step.Now, Docks.SetItem(step.Picture.Dock.Name, step), History.Add(step.Transitions), refusals, link, counts, toPublish);
}
