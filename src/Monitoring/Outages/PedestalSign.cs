using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Outages;

/// <summary>What one pedestal gives away about its supply, tick after tick.</summary>
sealed class PedestalSign(double deadVolts)
{
    /// <summary>Pedestals send at least twice a minute: two readings missed, and some.</summary>
    static readonly TimeSpan LongestQuiet = TimeSpan.FromSeconds(75);
    static readonly TimeSpan ShortestQuiet = TimeSpan.FromSeconds(10);
    const double ReadingsMissed = 2.5;

    DateTimeOffset? judged;

    /// <summary>When its last reading with good volts came in; when the watch began before there was one.</summary>
    public DateTimeOffset AliveAt { get; private set; }

    /// <summary>Since when it has been lost: it said that it has no volts, or says nothing more. Null: not lost, or not yet known to be.</summary>
    public DateTimeOffset? LostSince { get; private set; }

    /// <summary>Legs that it said are dead, when last heard.</summary>
    public IReadOnlyList<Leg> Dead { get; private set; } = [];

    /// <param name="recoveredAt">When a supply came back here; what was known before no longer counts.</param>
    public void Take(PedestalImage pedestal, DateTimeOffset now, DateTimeOffset recoveredAt)
    {
        var heardAt = now - pedestal.SilentFor;
        if (pedestal.Latest is { } latest && latest.Time != judged)
            (judged, Dead) = (latest.Time, DeadLegs(latest.Volts));
        if (Dead.Count == 0)
            AliveAt = heardAt;
        else if (AliveAt == default)
            AliveAt = now;
        var saidDead = Dead.Count > 0 && heardAt >= recoveredAt;
        var isStillGone = LostSince > recoveredAt && LostSince >= heardAt && pedestal.WaitedFor < pedestal.SilentFor;
        LostSince = saidDead || isStillGone || IsGone(pedestal, now, recoveredAt) ? LostSince ?? now : null;
    }

    Leg[] DeadLegs(PerLeg volts) => [.. volts.Legs.Where(leg => volts[leg] < deadVolts)];

    static bool IsGone(PedestalImage pedestal, DateTimeOffset now, DateTimeOffset recoveredAt)
    {
        var listened = now - pedestal.WaitedFor;
        var quiet = now - (listened > recoveredAt ? listened : recoveredAt);
        return quiet > QuietFor(pedestal) || (pedestal.Online == false && now - recoveredAt > LongestQuiet);
    }

    static TimeSpan QuietFor(PedestalImage pedestal)
    {
        if (pedestal is not { Latest: { } latest, Previous: { } previous })
            return LongestQuiet;
        var missed = ReadingsMissed * (latest.Time - previous.Time);
        return missed < ShortestQuiet ? ShortestQuiet : missed > LongestQuiet ? LongestQuiet : missed;
    }

    public PedestalSignMemory Memory() => new(judged, AliveAt, LostSince, Dead);

    public void Resume(PedestalSignMemory memory) =>
        (judged, AliveAt, LostSince, Dead) = (memory.Judged, memory.AliveAt, memory.LostSince, memory.Dead);
}

/// <param name="Judged">Time of the reading that was last looked at.</param>
sealed record PedestalSignMemory(DateTimeOffset? Judged, DateTimeOffset AliveAt, DateTimeOffset? LostSince, IReadOnlyList<Leg> Dead);
