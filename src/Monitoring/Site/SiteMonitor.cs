using Farberth.Monitoring.Alarms.Rates;
using Farberth.Monitoring.Remembering;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Site;

/// <summary>
/// All docks of a site behind one decoder: what the live service and a replay both drive, with messages in order of
/// arrival and the time of a clock or of the recording.
/// </summary>
public sealed class SiteMonitor
{
    /// <summary>Ticks stand on whole multiples of this.</summary>
    public static readonly TimeSpan Tick = TimeSpan.FromSeconds(1);

    /// <summary>
    /// After a longer gap the ticks between are left out: nobody listened, or the clock was set. A clock that was set back
    /// by more than this goes on from there.
    /// </summary>
    static readonly TimeSpan LongestGap = TimeSpan.FromMinutes(10);

    readonly InboundDecoder decoder;
    readonly List<DockMonitor> docks;
    readonly AlarmTally tally = new();
    DateTimeOffset? lastTick;

    public SiteMonitor(SiteDefinition site)
    {
        Site = site;
        decoder = new InboundDecoder(site);
        docks = [.. site.Docks.Values.Select(dock => new DockMonitor(site, dock))];
    }

    /// <summary>Goes on from what another one remembered, as if it were that one.</summary>
    public SiteMonitor(SiteDefinition site, SiteMemory memory)
        : this(site)
    {
        ArgumentNullException.ThrowIfNull(memory);
        var fitting = FittingMemory.Of(memory, site);
        Forgotten = fitting.Forgotten;
        if (fitting.Memory is not { } its)
            return;
        docks = [.. site.Docks.Values.Select(dock => its.Docks.TryGetValue(dock.Name, out var known) ? new DockMonitor(site, dock, known) : new(site, dock))];
        lastTick = its.LastTick;
        tally.Resume(its.Tally);
        Refusals.Resume(its.Refusals);
    }

    public SiteDefinition Site { get; }

    /// <summary>What of the memory did not fit the site any more, in words.</summary>
    public IReadOnlyList<string> Forgotten { get; } = [];

    /// <summary>What could not be taken, by reason.</summary>
    public RefusalLedger Refusals { get; } = new();

    /// <summary>How many alarms people got, up to the latest tick.</summary>
    public AlarmRates Rates => tally.Rates;

    /// <summary>What each pedestal that has been heard said last, also since the last tick: to be looked at, not to be judged.</summary>
    public IEnumerable<Reading> Newest => docks.SelectMany(dock => dock.Newest);

    /// <summary>Decodes one message and hands it to the docks. What is refused is counted, and returned.</summary>
    public Decoded Take(RecordedMessage recorded)
    {
        var decoded = decoder.Decode(recorded.Message, recorded.At);
        Refusals.Add(decoded.Refusals);
        if (decoded.Value is { } inbound)
            foreach (var dock in docks)
                dock.Take(inbound, recorded.At);
        return decoded;
    }

    /// <summary>When a dock should be looked at before the next tick; null: all can wait.</summary>
    public DateTimeOffset? LooksAt => Soonest()?.LooksAt;

    /// <summary>Takes every tick that has fallen due, up to and including <paramref name="now"/>, and every early look of a dock between them.</summary>
    public IEnumerable<DockStep> Advance(DateTimeOffset now)
    {
        var due = Due(now);
        if ((due - lastTick)?.Duration() > LongestGap)
            Resumed(now);
        var last = lastTick ?? due - Tick;
        for (var tick = last + Tick; tick <= due; tick += Tick)
        {
            foreach (var early in Before(tick))
                yield return early;
            lastTick = tick;
            foreach (var dock in docks)
                yield return Step(dock, tick);
        }
        foreach (var early in Before(now + TimeSpan.FromTicks(1)))
            yield return early;
    }

    IEnumerable<DockStep> Before(DateTimeOffset moment)
    {
        while (Soonest() is { } dock && dock.LooksAt < moment)
            yield return Step(dock, dock.LooksAt.Value);
    }

    DockMonitor? Soonest()
    {
        DockMonitor? soonest = null;
        foreach (var dock in docks)
            if (dock.LooksAt is { } at && !(soonest?.LooksAt <= at))
                soonest = dock;
        return soonest;
    }

    DockStep Step(DockMonitor dock, DateTimeOffset now)
    {
        var step = dock.Step(now);
        Refusals.Add(Refused(step));
        tally.Take(step);
        return step;
    }

    /// <summary>What people asked for in vain, as the ledger has it.</summary>
    public IEnumerable<Refusal> Refused(DockStep step) => step.Refused.Select(refused => new Refusal(
        step.Now, RefusalReason.NotAllowed, Refusal.Cut($"farberth/v1/{Site.Name}/alarm/{refused.Command.AlarmId}"),
        Refusal.Cut($"{refused.Command.By} asked in vain: {refused.Why}"), default));

    /// <summary>
    /// All that lasts from one tick to the next; another monitor that goes on from it gives the same bytes. To be asked for when what
    /// <see cref="Advance"/> gives has been read to its end.
    /// </summary>
    public SiteMemory Memory() => new(
        SiteMemory.PresentVersion, Site.Name, lastTick, docks.ToDictionary(dock => dock.Name, dock => dock.Memory()), tally.Memory(),
        [.. Refusals.Snapshot().Values]);

    /// <summary>
    /// The service was away, or its clock was set: the ticks between are left out, silence counts from now, and nothing is
    /// judged before every pedestal has been heard or waited for.
    /// </summary>
    public void Resumed(DateTimeOffset now)
    {
        var due = Due(now);
        if (lastTick is not { } last || due == last)
            return;
        for (var at = 0; at < docks.Count; at++)
            docks[at] = docks[at].After(last, due);
        lastTick = due - Tick;
    }

    static DateTimeOffset Due(DateTimeOffset now) => new(now.UtcTicks - now.UtcTicks % Tick.Ticks, TimeSpan.Zero);
}
