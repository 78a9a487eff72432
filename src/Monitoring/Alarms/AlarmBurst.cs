namespace Farberth.Monitoring.Alarms;

/// <summary>How many alarms a dock has raised of late, and for whom that is a flood.</summary>
/// <param name="RaisedIn10Minutes">For whoever got the most.</param>
/// <param name="Flooded">For whom new alarms below high priority are held back.</param>
public sealed record AlarmFlow(int RaisedIn10Minutes, Audience Flooded)
{
    public static readonly AlarmFlow Calm = new(0, Audience.None);
}

/// <summary>
/// Which alarm of a burst came first, and who has had more than can be answered. A flood begins with more than 10 alarms in 10
/// minutes and ends below 5 (ISA-18.2, from memory). Boaters have only their own slip's alarms: there is no flood for them.
/// </summary>
sealed class AlarmBurst
{
    const int FloodAbove = 10, CalmBelow = 5;
    static readonly TimeSpan Lately = TimeSpan.FromMinutes(10);

    /// <summary>A minute without a new alarm ends a burst (assumed: the reporting interval is 30 s at most).</summary>
    static readonly TimeSpan Pause = TimeSpan.FromSeconds(60);

    static readonly IReadOnlyList<Audience> Operators = [Audience.Electrician, Audience.Harbormaster];

    readonly Queue<(DateTimeOffset At, Audience For)> raised = new();
    DateTimeOffset lastRaised = DateTimeOffset.MinValue;
    string first = "";

    public AlarmFlow Flow { get; private set; } = AlarmFlow.Calm;

    /// <summary>Counts an alarm that is raised.</summary>
    /// <returns>The first of its burst, and from whom it is held back.</returns>
    public (string First, Audience HeldBackFrom) Raised(Alarm alarm, DateTimeOffset now)
    {
        if (now - lastRaised > Pause)
            first = alarm.Id;
        lastRaised = now;
        raised.Enqueue((now, alarm.For));
        Count(now);
        return (first, alarm.Priority == Priority.High ? Audience.None : alarm.For & Flow.Flooded);
    }

    /// <returns>For whom a flood is over now.</returns>
    public Audience Calm(DateTimeOffset now)
    {
        var before = Flow.Flooded;
        Count(now);
        return before & ~Flow.Flooded;
    }

    void Count(DateTimeOffset now)
    {
        while (raised.Count > 0 && now - raised.Peek().At >= Lately)
            raised.Dequeue();
        if (raised.Count == 0)
        {
            Flow = AlarmFlow.Calm;
            return;
        }
        var counts = Operators.Select(one => (One: one, Count: raised.Count(alarm => alarm.For.HasFlag(one)))).ToList();
        var flooded = counts.Where(pair => pair.Count > FloodAbove || (pair.Count >= CalmBelow && Flow.Flooded.HasFlag(pair.One)));
        Flow = new(counts.Max(pair => pair.Count), flooded.Aggregate(Audience.None, (all, pair) => all | pair.One));
    }

    public BurstMemory Memory() => new([.. raised.Select(one => new RaisedThen(one.At, one.For))], lastRaised, first, Flow);

    public void Resume(BurstMemory memory)
    {
        foreach (var one in memory.Raised)
            raised.Enqueue((one.At, one.For));
        (lastRaised, first, Flow) = (memory.LastRaised, memory.First, memory.Flow);
    }
}

/// <param name="First">Id of the alarm that was raised first in the latest burst.</param>
sealed record BurstMemory(IReadOnlyList<RaisedThen> Raised, DateTimeOffset LastRaised, string First, AlarmFlow Flow);

sealed record RaisedThen(DateTimeOffset At, Audience For);
