using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Learning;

/// <summary>
/// Learns each cable's resistance from one dock's volts and amps: sums each tick, means each minute, joints each minute.
/// The cables from the source to the first meters are not learned: what they lose cannot be told from what the supply does.
/// </summary>
sealed class JointLearner(SiteDefinition site, DockDefinition dock)
{
    /// <summary>Assumed: long enough for two days to be compared, short enough for a joint that gets worse.</summary>
    static readonly TimeSpan τ = TimeSpan.FromDays(3);

    readonly CableTreeMinute tree = new(site, dock);
    readonly Dictionary<(int Inner, int Outer), CableRun> runs = [];
    DateTimeOffset? minute;

    /// <summary>Every clear joint as of the last full minute.</summary>
    public IReadOnlyList<CableJoint> Joints { get; private set; } = [];

    /// <returns>True when a minute was closed by this tick.</returns>
    public bool Tick(DockImage image, DockEstimate estimate)
    {
        var begun = new DateTimeOffset(image.Now.UtcTicks - image.Now.UtcTicks % TimeSpan.TicksPerMinute, TimeSpan.Zero);
        var isNext = minute != null && begun != minute;
        if (isNext)
            Close(minute!.Value, begun, estimate);
        minute = begun;
        for (var cable = 0; cable < tree.Cables.Count; cable++)
            tree.Pedestals[cable]?.Tick(image.Pedestals[tree.Cables[cable].To]);
        return isNext;
    }

    void Close(DateTimeOffset closed, DateTimeOffset now, DockEstimate estimate)
    {
        tree.Gather();
        var share = Math.Exp(-(now - closed) / τ);
        foreach (var run in runs.Values)
            run.Fade(share);
        for (var cable = 0; cable < tree.Cables.Count; cable++)
            if (tree.IsLive(cable))
                RunTo(cable)?.Take(closed, of => estimate.Cables[tree.Cables[of].To].ConductorCelsius);
        foreach (var pedestal in tree.Pedestals)
            pedestal?.Clear();
        Joints = [.. runs.Values.GroupBy(run => run.Outer).OrderBy(group => group.Key)
            .SelectMany(group => group.MaxBy(run => run.Count)!.Joints(now))];
    }

    /// <summary>The run from the nearest live meter inwards; null when there is none before the source.</summary>
    CableRun? RunTo(int outer)
    {
        var cables = new List<int> { outer };
        var inner = tree.Parents[outer];
        for (; inner >= 0 && !tree.IsLive(inner); inner = tree.Parents[inner])
            cables.Add(inner);
        if (inner < 0)
            return null;
        if (!runs.TryGetValue((inner, outer), out var run))
            runs[(inner, outer)] = run = new(site, tree, inner, cables);
        return run;
    }
}
