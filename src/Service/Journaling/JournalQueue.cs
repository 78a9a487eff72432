namespace Farberth.Service.Journaling;

/// <summary>
/// What waits to be written down, in order. Whatever goes out goes out in that order too: nothing overtakes what happened before it,
/// since on the broker the latest message of an alarm wins. It knows no clock.
/// </summary>
/// <param name="capacity">Beyond it the oldest is never written down; it goes out all the same, and is counted.</param>
sealed class JournalQueue(int capacity)
{
    readonly LinkedList<Kept> waiting = [];

    /// <summary>So many from the front have gone out already.</summary>
    int released;

    public int Count => waiting.Count;

    /// <summary>Events that went out before they were written down.</summary>
    public long ToldFirst { get; private set; }

    /// <summary>Parts that were never written down.</summary>
    public long Lost { get; private set; }

    /// <summary>When the next must go out; null: all have.</summary>
    public DateTimeOffset? Due => waiting.Count == released ? null : waiting.Skip(released).Min(kept => kept.NotAfter);

    /// <returns>What goes out now.</returns>
    public IReadOnlyList<Kept> Put(Kept kept)
    {
        waiting.AddLast(kept);
        if (waiting.Count <= capacity)
            return [];
        Lost++;
        return Written([waiting.First!.Value]);
    }

    /// <summary>The next to be written together.</summary>
    public IReadOnlyList<Kept> Peek(int most) => [.. waiting.Take(most)];

    /// <summary>The first of these are dealt with; one that the queue had no room for any more is gone already.</summary>
    /// <returns>Those of them that go out now.</returns>
    public IReadOnlyList<Kept> Written(IReadOnlyList<Kept> done)
    {
        var unreleased = new List<Kept>();
        foreach (var kept in done)
        {
            if (!ReferenceEquals(waiting.First?.Value, kept))
                continue;
            waiting.RemoveFirst();
            if (released > 0)
                released--;
            else
                unreleased.Add(kept);
        }
        return unreleased;
    }

    /// <returns>What goes out unwritten: all that is due, and all that happened before it.</returns>
    public IReadOnlyList<Kept> Overdue(DateTimeOffset now)
    {
        var held = waiting.Skip(released).ToList();
        var overdue = held[..(held.FindLastIndex(kept => kept.NotAfter <= now) + 1)];
        released += overdue.Count;
        ToldFirst += overdue.Sum(kept => kept.Part.Entries.Count);
        return overdue;
    }
}
