using System.Globalization;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Service.Journaling;

namespace Farberth.Service.Views;

/// <summary>
/// Any moment that the history still holds: a dock's monitor begins anew, hears the readings of the minutes before, and takes its ticks
/// up to that moment. It is the monitor that watches the dock now, so no rule is written twice; what it can only learn over hours and days
/// is not in the picture. What stood and what was asked is not worked out again: the journal has it.
/// </summary>
/// <remarks>The history goes by the pedestals' own time; that of their arrival is not kept.</remarks>
/// <param name="history">Null: nothing is kept.</param>
public sealed class Past(SiteDefinition site, History? history, JournalSetup journal, TimeProvider clock) : IDisposable
{
    /// <summary>So that every outlet knows what it drew lately, and cables have begun to warm.</summary>
    static readonly TimeSpan Before = OutletImage.RecentFor;

    /// <summary>Ticks are a minute apart, and in the last minute a few seconds: cables warm slowly, and the supply is followed within some ticks.</summary>
    static readonly TimeSpan Sparsely = TimeSpan.FromMinutes(1), Closely = TimeSpan.FromSeconds(5);

    /// <summary>Readings of the last minute may still come in; a picture of that time is not kept.</summary>
    static readonly TimeSpan Settled = TimeSpan.FromMinutes(1);

    static readonly IReadOnlyList<string> NotWorkedOut =
    [
        "bad joints, meters' gains, how each outlet answers to its volts, the heat of breakers and transformer, and the forecast: they are learned over hours and days",
        "the weather: it is not kept, and raceways are taken to be as warm as the site file says",
    ];

    const int MostKept = 32, MostReadings = 20_000;

    readonly SemaphoreSlim one = new(1);
    readonly LinkedList<(string Dock, DockMoment Moment)> kept = [];

    /// <summary>False where no history is kept.</summary>
    public bool IsKept => history is not null;

    /// <summary>A dock of the site at a moment, to the second.</summary>
    /// <exception cref="IOException">The disk, or the journal, does not give it.</exception>
    /// <exception cref="OperationCanceledException">Cancelled while others were being served.</exception>
    public async Task<DockMoment> At(string dock, DateTimeOffset moment, CancellationToken cancel)
    {
        var tick = new DateTimeOffset(moment.UtcTicks - moment.UtcTicks % SiteMonitor.Tick.Ticks, TimeSpan.Zero);
        // One at a time: whoever draws a slider across a day must not take the processor from the dock's own monitor.
        await one.WaitAsync(cancel).ConfigureAwait(false);
        try
        {
            return Known(dock, tick) ?? Keep(dock, await Task.Run(() => WorkOut(site.Docks[dock], tick), cancel).ConfigureAwait(false));
        }
        finally
        {
            one.Release();
        }
    }

    public void Dispose() => one.Dispose();

    DockMoment? Known(string dock, DateTimeOffset tick)
    {
        for (var node = kept.First; node is not null; node = node.Next)
            if (node.Value.Dock == dock && node.Value.Moment.At == tick)
            {
                kept.Remove(node);
                kept.AddFirst(node);
                return node.Value.Moment;
            }
        return null;
    }

    DockMoment Keep(string dock, DockMoment moment)
    {
        if (clock.GetUtcNow() - moment.At < Settled)
            return moment;
        kept.AddFirst((dock, moment));
        if (kept.Count > MostKept)
            kept.RemoveLast();
        return moment;
    }

    DockMoment WorkOut(DockDefinition dock, DateTimeOffset tick)
    {
        var found = history is null ? [] : dock.Pedestals.Keys.Select(pedestal => history.Readings(pedestal, tick - Before, tick, MostReadings)).ToList();
        var readings = found.SelectMany(rows => rows.Rows).Select(reading => Known(dock, reading)).OrderBy(reading => reading.Time).ToList();
        var step = Steps(dock, readings, tick);
        List<string> without = [.. NotWorkedOut];
        if (found.Any(rows => rows.IsCut))
            without.Add(string.Create(CultureInfo.InvariantCulture, $"the newest readings of a pedestal that sends more than {MostReadings} in {Before.TotalMinutes:0} minutes"));
        if (journal.Journal is null)
            without.Add("alarms and requests: no journal is kept");
        var inForce = journal.Journal?.InForce(tick + SiteMonitor.Tick).Where(happened => happened.Dock == dock.Name).ToList() ?? [];
        return new(step with
        {
            Picture = step.Picture with { Forecast = null },
            Transitions = [],
            Standing = [.. inForce.OfType<AlarmStepped>().Select(happened => happened.Transition.Alarm)],
            Advice = DockAdvice.Nothing with { Standing = [.. inForce.OfType<AdviceChanged>().Select(happened => happened.Change.Advice)] },
            Flow = AlarmFlow.Calm,
        }, readings.Count, without);
    }

    /// <summary>An outlet that the site file has no more is in the history still.</summary>
    static Reading Known(DockDefinition dock, Reading reading) =>
        dock.Pedestals[reading.Pedestal].Outlets is var there && reading.Outlets.Keys.All(there.ContainsKey) ? reading
            : reading with { Outlets = reading.Outlets.Where(outlet => there.ContainsKey(outlet.Key)).ToDictionary() };

    DockStep Steps(DockDefinition dock, List<Reading> readings, DateTimeOffset tick)
    {
        var monitor = new DockMonitor(site, dock);
        var next = 0;
        DockStep Step(DateTimeOffset at)
        {
            for (; next < readings.Count && readings[next].Time < at; next++)
                monitor.Take(readings[next], readings[next].Time);
            return monitor.Step(at);
        }
        for (var at = tick - Before + Sparsely; at < tick - Sparsely; at += Sparsely)
            Step(at);
        for (var at = tick - Sparsely; at < tick; at += Closely)
            Step(at);
        return Step(tick);
    }
}
