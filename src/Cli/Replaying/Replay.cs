using Farberth.Adapters.Recordings;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Wire;

namespace Farberth.Cli.Replaying;

/// <summary>Drives a site's monitor with a recording, as the service would have been driven.</summary>
sealed class Replay(SiteMonitor monitor, string name, LineSink? alarms, LineSink? estimates, LineSink? advice)
{
    const int MostProblemsShown = 20;

    readonly Progress progress = new();
    readonly SortedDictionary<AlarmKind, int> raised = [];
    DateTimeOffset? first, last;
    long messages, ignored, damaged, ticks, transitions;

    public ReplaySummary Summary => new(
        messages, ignored, damaged, monitor.Refusals.Snapshot(), ticks, transitions, raised, first, last) { Rates = monitor.Rates };

    public void Run(IEnumerable<RecordingEntry> entries)
    {
        foreach (var entry in entries)
        {
            if (entry.Message is { } message)
            {
                messages++;
                first ??= message.At;
                last = message.At;
                foreach (var step in monitor.Advance(message.At))
                    Take(step);
                if (monitor.Take(message).Ignored)
                    ignored++;
            }
            else
            {
                Report(entry);
            }
            progress.Show(() => $"{messages} messages, {last:yyyy-MM-dd HH:mm} UTC");
        }
        progress.Clear();
        if (damaged > MostProblemsShown)
            Console.Error.WriteLine($"{name}: {damaged - MostProblemsShown} more damaged lines");
    }

    void Take(DockStep step)
    {
        ticks++;
        if (estimates != null && step.Picture.Image.IsWhole)
            estimates.Write(DockStateJson.Of(step));
        foreach (var change in step.Advice.Changes)
            advice?.Write(AdviceJson.Of(change));
        foreach (var transition in step.Transitions)
        {
            transitions++;
            alarms?.Write(AlarmJson.Of(transition));
            if (transition.IsRaise)
                raised[transition.Alarm.Kind] = raised.GetValueOrDefault(transition.Alarm.Kind) + 1;
        }
    }

    void Report(RecordingEntry entry)
    {
        if (++damaged > MostProblemsShown)
            return;
        progress.Clear();
        Console.Error.WriteLine($"{name}:{entry.Line}:1: {entry.Problem}");
    }
}
