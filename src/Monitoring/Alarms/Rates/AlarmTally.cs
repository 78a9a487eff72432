using System.Collections.Immutable;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Alarms.Rates;

/// <summary>Counts what every tick of every dock raised. Bounded by the number of alarms that a site can have.</summary>
public sealed class AlarmTally
{
    const int MostFrequent = 10;
    static readonly TimeSpan StaleAfter = TimeSpan.FromDays(1);

    readonly AlarmLoadCounter[] loads = [new(Audience.Electrician), new(Audience.Harbormaster)];
    readonly Dictionary<string, int> byId = [];
    readonly HashSet<string> chattered = [];
    readonly Dictionary<string, (int Chattering, int Stale)> standing = [];
    ImmutableSortedDictionary<AlarmKind, int> kinds = ImmutableSortedDictionary<AlarmKind, int>.Empty;
    ImmutableSortedDictionary<Priority, int> priorities = ImmutableSortedDictionary<Priority, int>.Empty;
    int raised;

    public AlarmRates Rates => new(
        [.. loads.Select(load => load.Load)], raised, kinds, priorities,
        [.. byId.OrderByDescending(pair => pair.Value).ThenBy(pair => pair.Key, StringComparer.Ordinal).Take(MostFrequent)],
        chattered.Count, standing.Values.Sum(dock => dock.Chattering), standing.Values.Sum(dock => dock.Stale));

    public void Take(DockStep step)
    {
        foreach (var load in loads)
            load.Advance(step.Now);
        foreach (var transition in step.Transitions)
            if (transition.IsRaise)
                Take(transition.Alarm);
        var (chattering, stale) = (0, 0);
        foreach (var alarm in step.Standing)
            if (alarm.State.IsActive())
                (chattering, stale) = (chattering + (alarm.Chattering > 0 ? 1 : 0), stale + (step.Now - alarm.Since > StaleAfter ? 1 : 0));
        standing[step.Picture.Dock.Name] = (chattering, stale);
    }

    void Take(Alarm alarm)
    {
        foreach (var load in loads)
            load.Take(alarm);
        raised++;
        kinds = kinds.SetItem(alarm.Kind, kinds.GetValueOrDefault(alarm.Kind) + 1);
        priorities = priorities.SetItem(alarm.Priority, priorities.GetValueOrDefault(alarm.Priority) + 1);
        byId[alarm.Id] = byId.GetValueOrDefault(alarm.Id) + 1;
        if (alarm.Chattering > 0)
            chattered.Add(alarm.Id);
    }

    internal TallyMemory Memory() => new(
        [.. loads.Select(load => load.Memory())], byId.ToDictionary(), [.. chattered],
        standing.ToDictionary(pair => pair.Key, pair => new StandingMemory(pair.Value.Chattering, pair.Value.Stale)), kinds, priorities, raised);

    internal void Resume(TallyMemory memory)
    {
        for (var load = 0; load < loads.Length; load++)
            loads[load].Resume(memory.Loads[load]);
        foreach (var (id, count) in memory.ById)
            byId[id] = count;
        chattered.UnionWith(memory.Chattered);
        foreach (var (dock, its) in memory.Standing)
            standing[dock] = (its.Chattering, its.Stale);
        (kinds, priorities, raised) = (memory.Kinds.ToImmutableSortedDictionary(), memory.Priorities.ToImmutableSortedDictionary(), memory.Raised);
    }
}

/// <param name="Standing">By dock.</param>
sealed record TallyMemory(
    IReadOnlyList<AlarmLoadMemory> Loads, IReadOnlyDictionary<string, int> ById, IReadOnlyList<string> Chattered,
    IReadOnlyDictionary<string, StandingMemory> Standing, IReadOnlyDictionary<AlarmKind, int> Kinds,
    IReadOnlyDictionary<Priority, int> Priorities, int Raised);

sealed record StandingMemory(int Chattering, int Stale);
