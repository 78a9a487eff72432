using Farberth.Monitoring.Alarms.Rates;
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
    /// After a longer gap the ticks between are left out: nothing could have happened in them. A clock that was set back
    /// by more than this begins anew from there.
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

    public SiteDefinition Site { get; }

    /// <summary>What could not be taken, by reason.</summary>
    public RefusalLedger Refusals { get; } = new();

    /// <summary>How many alarms people got, up to the latest tick.</summary>
    public AlarmRates Rates => tally.Rates;

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

    /// <summary>Takes every tick that has fallen due, up to and including <paramref name="now"/>.</summary>
    public IEnumerable<DockStep> Advance(DateTimeOffset now)
    {
        var due = new DateTimeOffset(now.UtcTicks - now.UtcTicks % Tick.Ticks, TimeSpan.Zero);
        if (lastTick is not { } last || (due - last).Duration() > LongestGap)
            last = due - Tick;
        for (var tick = last + Tick; tick <= due; tick += Tick)
        {
            lastTick = tick;
            foreach (var dock in docks)
            {
                var step = dock.Step(tick);
                Refusals.Add(Refused(step));
                tally.Take(step);
                yield return step;
            }
        }
    }

    /// <summary>What people asked for in vain, as the ledger has it.</summary>
    public IEnumerable<Refusal> Refused(DockStep step) => step.Refused.Select(refused => new Refusal(
        step.Now, RefusalReason.NotAllowed, Refusal.Cut($"farberth/v1/{Site.Name}/alarm/{refused.Command.AlarmId}"),
        Refusal.Cut($"{refused.Command.By} asked in vain: {refused.Why}"), default));
}
