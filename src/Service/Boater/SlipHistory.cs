using System.Collections.Concurrent;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telling;
using Farberth.Service.Access;
using Farberth.Service.Journaling;

namespace Farberth.Service.Boater;

/// <summary>What happened at a slip during a stay, out of the journal, which may be away or slow: the page does not wait for it for long.</summary>
sealed class SlipHistory(JournalSetup setup, SiteDefinition site, TimeProvider clock)
{
    /// <summary>So old may what is shown be, so that pages that ask again and again do not keep the journal busy.</summary>
    static readonly TimeSpan GoodFor = TimeSpan.FromSeconds(5);

    static readonly TimeSpan Patience = TimeSpan.FromSeconds(1);

    /// <summary>Of each alarm and of the slip; a stay that has more shows its latest.</summary>
    const int MostEvents = 400;

    const int MostStays = 500;

    readonly Dictionary<string, IReadOnlyList<string>> alarmIds = site.Slips.Keys.ToDictionary(slip => slip, slip => (IReadOnlyList<string>)
        [.. site.Docks.Values.Select(dock => SlipPlace.Of(dock, new(dock), slip)).Where(place => place.Outlets.Count > 0).SelectMany(place => place.AlarmIds)]);

    readonly ConcurrentDictionary<long, (DateTimeOffset At, Task<IReadOnlyList<Episode>?> Episodes)> read = [];

    /// <returns>The latest first; null: the journal is away, or there is none.</returns>
    public async Task<IReadOnlyList<Episode>?> Of(BoatStay stay)
    {
        if (setup.Journal is not { } journal)
            return null;
        var now = clock.GetUtcNow();
        if (!read.TryGetValue(stay.Id, out var known) || (now - known.At > GoodFor && known.Episodes.IsCompleted))
        {
            if (read.Count >= MostStays)
                read.Clear();
            read[stay.Id] = known = (now, Task.Run(() => Read(journal, stay)));
        }
        try
        {
            return await known.Episodes.WaitAsync(Patience, clock).ConfigureAwait(false);
        }
        catch (TimeoutException)
        {
            return null;
        }
    }

    IReadOnlyList<Episode>? Read(IJournal journal, BoatStay stay)
    {
        try
        {
            var during = new JournalQuery { From = stay.From, To = stay.To, Limit = MostEvents };
            return Episode.Of([
                .. journal.History(during with { Slip = stay.Slip }).Events,
                .. alarmIds.GetValueOrDefault(stay.Slip, []).SelectMany(id => journal.History(during with { AlarmId = id }).Events).Where(IsForBoaters),
            ], stay.From);
        }
        catch (JournalException)
        {
            return null;
        }
    }

    static bool IsForBoaters(JournalEvent happened) => happened is AlarmStepped stepped && stepped.Transition.Alarm.For.HasFlag(Audience.Boater);
}

/// <summary>An alarm from when it was raised until it was over, or a request from when it was asked until it was taken back.</summary>
/// <param name="To">Null: it still stands, as far as the journal knows.</param>
/// <param name="Alarm">Null: a request.</param>
/// <param name="Asked">Null: an alarm.</param>
public sealed record Episode(DateTimeOffset From, DateTimeOffset? To, Alarm? Alarm, BoaterAdvice? Asked)
{
    const int Most = 60;

    /// <summary>What began before the stay is the boat's before it, and is left out.</summary>
    public static IReadOnlyList<Episode> Of(IEnumerable<JournalEvent> events, DateTimeOffset stayFrom)
    {
        var (standing, over) = (new Dictionary<string, Episode>(), new List<Episode>());
        foreach (var happened in events.OrderBy(one => one.At))
        {
            var key = (happened is AlarmStepped ? "alarm " : "slip ") + happened.Name;
            var before = standing.GetValueOrDefault(key);
            if (Begun(happened, before) is { } now)
                standing[key] = now;
            else if (before != null && IsEnd(happened) && standing.Remove(key))
                over.Add(before with { To = happened.At });
        }
        return [.. over.Concat(standing.Values).Where(one => one.From >= stayFrom).OrderByDescending(one => one.From).Take(Most)];
    }

    static Episode? Begun(JournalEvent happened, Episode? before) => happened switch
    {
        AlarmStepped { Transition: { Alarm.State: AlarmState.Unacknowledged, Alarm: var alarm } } => new(alarm.Since, null, alarm, null),
        AdviceChanged { Change: { TakenBack: null, Advice: var asked } } => new(before?.From ?? happened.At, null, null, asked),
        _ => null,
    };

    static bool IsEnd(JournalEvent happened) => happened is AdviceChanged { Change.TakenBack: not null }
        || (happened is AlarmStepped { Transition.Alarm.State: var state } && !state.IsActive());
}
