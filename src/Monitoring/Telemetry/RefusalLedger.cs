using System.Collections.Immutable;

namespace Farberth.Monitoring.Telemetry;

/// <param name="Count">Refusals for this reason since the ledger began.</param>
public sealed record RefusalTally(long Count, Refusal Last);

/// <summary>
/// Counts refusals by reason and keeps the last of each. Its size is bounded by the number of reasons.
/// One thread adds; the snapshot it hands out is immutable and may go anywhere.
/// </summary>
public sealed class RefusalLedger
{
    ImmutableSortedDictionary<RefusalReason, RefusalTally> tallies =
        ImmutableSortedDictionary<RefusalReason, RefusalTally>.Empty;

    public void Add(Refusal refusal)
    {
        var before = tallies.TryGetValue(refusal.Reason, out var tally) ? tally.Count : 0;
        tallies = tallies.SetItem(refusal.Reason, new RefusalTally(before + 1, refusal));
    }

    public void Add(IEnumerable<Refusal> refusals)
    {
        foreach (var refusal in refusals)
            Add(refusal);
    }

    /// <summary>The tallies as they stand now, in the order of the reasons.</summary>
    public ImmutableSortedDictionary<RefusalReason, RefusalTally> Snapshot() => tallies;

    /// <summary>Goes on from a snapshot.</summary>
    internal void Resume(IEnumerable<RefusalTally> memory) => tallies = memory.ToImmutableSortedDictionary(tally => tally.Last.Reason, tally => tally);
}
