using CsCheck;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using static Farberth.Adapters.Tests.Stores.Journal.Given;

namespace Farberth.Adapters.Tests.Stores.Journal;

/// <summary>What a journal must hold, as plain lists; and batches of every kind, among them repeated events and rows that are not there.</summary>
sealed class JournalModel
{
    readonly List<JournalEvent> events = [];
    readonly Dictionary<(string, string, Channel), OutboxRow> rows = [];

    static readonly Gen<JournalEntry> AnyEntry =
        from second in Gen.Int[0, 4]
        from pedestal in Gen.OneOf("C1", "C2")
        from state in Gen.OneOf(AlarmState.Unacknowledged, AlarmState.Acknowledged, AlarmState.Normal, AlarmState.Shelved)
        from contacts in Gen.OneOf("Ana", "Bo", "Cy").ArrayUnique[0, 3]
        select Entry(Step(second, Overload(state, pedestal)), contacts);

    public static readonly Gen<JournalBatch> AnyBatch =
        from entries in AnyEntry.Array[0, 4]
        from about in AnyEntry.Where(entry => entry.Tell.Count > 0).Array[0, 3]
        from state in Gen.OneOf(TellingState.Waiting, TellingState.Delivered, TellingState.GivenUp)
        from attempts in Gen.Int[1, 9]
        select new JournalBatch
        {
            Entries = entries,
            Told = [.. about.SelectMany(entry => entry.Tell).Select(row => row with { State = state, Attempts = attempts })],
        };

    public void Write(JournalBatch batch)
    {
        foreach (var entry in batch.Entries.Where(entry => events.TrueForAll(one => one.Key != entry.Event.Key)))
        {
            events.Add(entry.Event);
            foreach (var row in entry.Tell)
                rows[row.Key] = row;
        }
        foreach (var row in batch.Told.Where(row => rows.ContainsKey(row.Key)))
            rows[row.Key] = row;
    }

    public bool IsHeldBy(IJournal journal) =>
        journal.History(new() { Limit = JournalQuery.LargestPage }).Events.Select(happened => happened.Key).SequenceEqual(events.Select(happened => happened.Key).Reverse())
        && journal.Waiting(1000).Select(row => (row.Key, row.Attempts)).ToHashSet().SetEquals(
            rows.Values.Where(row => row.State == TellingState.Waiting).Select(row => (row.Key, row.Attempts)))
        && journal.Standing().Select(step => (step.Alarm.Id, step.Alarm.State)).SequenceEqual(
            events.GroupBy(happened => happened.Name).Select(steps => ((AlarmStepped)steps.Last()).Transition.Alarm)
                .Where(alarm => alarm.State != AlarmState.Normal).OrderBy(alarm => alarm.Id, StringComparer.Ordinal).Select(alarm => (alarm.Id, alarm.State)));
}
