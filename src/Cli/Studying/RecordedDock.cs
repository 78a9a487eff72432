using Farberth.Adapters.Recordings;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Planning.Balancing;
using Farberth.Planning.Replays;
using Farberth.Planning.Survey;

namespace Farberth.Cli.Studying;

/// <summary>What a recording says of one dock.</summary>
/// <param name="Survey">Null: the record has no quarter-hour that knows the whole dock.</param>
/// <param name="WhatIf">Null where no change was asked for.</param>
sealed record RecordedDock(DockDefinition Dock, LoadSurvey? Survey, LegBalance? Balance, WhatIfResult? WhatIf)
{
    const int MostMoves = 6;

    static readonly TimeSpan EachStep = TimeSpan.FromSeconds(2);

    /// <exception cref="CommandFailure">The recording is not there or cannot be read.</exception>
    public static IReadOnlyList<RecordedDock> Of(
        SiteDefinition site, string path, IReadOnlyList<Change> changes, bool isSubmetered, Progress progress, CancellationToken stop)
    {
        var histories = Histories(site, path, progress, stop);
        var docks = new List<RecordedDock>();
        foreach (var history in histories)
        {
            stop.ThrowIfCancellationRequested();
            progress.Show(() => $"dock {history.Dock.Name}, {docks.Count} of {histories.Count} done");
            List<Change> own = [.. changes.Where(change => Concerns(history.Dock, change))];
            docks.Add(new(
                history.Dock, LoadSurvey.Of(site, history, isSubmetered),
                history.Whole.Count > 0 ? LegBalancing.Of(site, history, MostMoves, EachStep, stop) : null,
                own.Count > 0 ? Planning.Replays.WhatIf.Of(site, history, own) : null));
        }
        progress.Clear();
        return docks;
    }

    /// <summary>The usual of every outlet, for plans.</summary>
    /// <exception cref="CommandFailure">The recording is not there or cannot be read.</exception>
    public static UsualLoads Usual(SiteDefinition site, string path, Progress progress, CancellationToken stop)
    {
        var usual = new UsualLoads(site, Histories(site, path, progress, stop));
        progress.Clear();
        return usual;
    }

    static bool Concerns(DockDefinition dock, Change change) => change switch
    {
        CableChange cable => dock.Cables.Any(each => each.To == cable.To),
        JointRepair joint => dock.Cables.Any(each => each.To == joint.To),
        _ => true,
    };

    static List<DockHistory> Histories(SiteDefinition site, string path, Progress progress, CancellationToken stop)
    {
        if (!File.Exists(path))
            throw CommandFailure.BadInput($"{path}: there is no such file");
        var decoder = new InboundDecoder(site);
        List<HistoryBuilder> builders = [.. site.Docks.Values.Select(dock => new HistoryBuilder(site, dock))];
        try
        {
            foreach (var entry in RecordingFile.Read(path))
            {
                stop.ThrowIfCancellationRequested();
                if (entry.Message is not { } message)
                    continue;
                progress.Show(() => $"{message.At:yyyy-MM-dd HH:mm} UTC");
                if (decoder.Decode(message.Message, message.At).Value is { } inbound)
                    builders.ForEach(builder => builder.Take(inbound));
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw CommandFailure.BadInput($"{path}: {e.Message}");
        }
        return builders.ConvertAll(builder => builder.Build());
    }
}
