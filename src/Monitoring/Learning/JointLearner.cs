using Farberth.Grid.Estimation;
using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Learning;

/// <summary>
/// Learns each cable's resistance and each meter's gain from one dock's volts and amps: sums each tick, means each minute and each ten
/// minutes, joints at each full hour. The cables from the source to the first meters are not learned: what they lose cannot be
/// told from what the supply does.
/// </summary>
sealed class JointLearner
{
    readonly SiteDefinition site;
    readonly CableTreeMinute tree;
    readonly TenMinutes tenMinutes;
    readonly CableWatts watts;
    readonly List<TreeMeans> remembered = [];
    readonly List<JointsFit> parts = [];
    readonly Dictionary<CableConductor, (DateTimeOffset At, bool OrBefore)> since = [];
    DateTimeOffset? minute;

    public JointLearner(SiteDefinition site, DockDefinition dock)
    {
        this.site = site;
        tree = new(site, dock);
        tenMinutes = new(site, tree);
        watts = new(tree, site.Supply.Legs.Count);
        var metered = new MeteredTree(tree.Parents, [.. site.Supply.Legs.Select(site.Supply.Direction)]);
        for (var first = 0; first < tree.Cables.Count; first += JointAssumptions.MostCables)
            parts.Add(new(metered, JointAssumptions.Prior, first, Math.Min(JointAssumptions.MostCables, tree.Cables.Count - first)));
    }

    /// <summary>Every clear joint as of the last full hour, with the watts of the last full minute, the hottest first.</summary>
    public IReadOnlyList<CableJoint> Joints { get; private set; } = [];

    /// <returns>True when a minute was closed by this tick.</returns>
    public bool Tick(DockImage image, DockEstimate estimate)
    {
        var begun = Begun(image.Now, TimeSpan.FromMinutes(1));
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
        watts.Add(closed);
        tenMinutes.Add(cable => estimate.Cables[tree.Cables[cable].To].ConductorCelsius);
        foreach (var pedestal in tree.Pedestals)
            pedestal?.Clear();
        var from = Begun(closed, TenMinutes.Long);
        if (from != Begun(now, TenMinutes.Long) && tenMinutes.Close(from) is { } means)
            Remember(means);
        if (remembered.Count > 0 && Begun(closed, TimeSpan.FromHours(1)) != Begun(now, TimeSpan.FromHours(1)))
            Solve();
        Joints = Described();
    }

    IReadOnlyList<CableJoint> Described() =>
        [.. parts.SelectMany(part => part.Joints).Select(Describe).OrderByDescending(joint => joint.WattsWorst)];

    void Remember(TreeMeans means)
    {
        remembered.RemoveAll(old => old.From >= means.From || means.From - old.From > JointAssumptions.Remembered);
        remembered.Add(means);
    }

    void Solve()
    {
        foreach (var part in parts)
            part.Solve(remembered);
        FollowSince();
    }

    /// <summary>What began before all that is remembered keeps the beginning that was known of it.</summary>
    void FollowSince()
    {
        var joints = parts.SelectMany(part => part.Joints).ToList();
        foreach (var gone in since.Keys.Except(joints.Select(joint => joint.At)).ToList())
            since.Remove(gone);
        foreach (var joint in joints)
            if (joint.From is { } from)
                since[joint.At] = (from, false);
            else if (!since.TryGetValue(joint.At, out var known) || known.At > remembered[0].From)
                since[joint.At] = (remembered[0].From, true);
    }

    CableJoint Describe(BadJoint joint)
    {
        int[] cables = [.. joint.Rivals.Select(rival => rival.Cable).Append(joint.At.Cable).Distinct().OrderDescending()];
        var (now, worst) = (watts.Now(joint), watts.Worst(joint));
        return new(
            tree.Cables[cables[^1]].From,
            tree.Cables[cables[0]].To,
            [.. cables.Select(cable => tree.Cables[cable].To)],
            LegOf(joint.At.Conductor),
            joint.Ohms,
            double.Hypot(joint.OhmsSd, JointAssumptions.AmpsShareSd * joint.Ohms),
            now.Watts,
            worst.Watts,
            since[joint.At].At,
            [.. joint.Rivals.Select(rival => LegOf(rival.Conductor)).Where(leg => leg != LegOf(joint.At.Conductor)).Distinct().Order()])
        {
            IsOlder = since[joint.At].OrBefore,
            WattsNowSd = now.Sd,
            WattsWorstSd = worst.Sd,
        };
    }

    Leg LegOf(int conductor) => conductor == site.Supply.Legs.Count ? Leg.N : (Leg)conductor;

    static DateTimeOffset Begun(DateTimeOffset at, TimeSpan every) => new(at.UtcTicks - at.UtcTicks % every.Ticks, TimeSpan.Zero);

    public JointLearnerMemory Memory() => new(
        minute,
        [.. tree.Pedestals.Select(pedestal => pedestal?.Memory())],
        tenMinutes.Memory(),
        watts.Memory(),
        [.. remembered],
        [.. parts.Select(part => part.Memory())],
        [.. since.Select(pair => new JointSince(pair.Key, pair.Value.At, pair.Value.OrBefore))]);

    public void Resume(JointLearnerMemory memory)
    {
        minute = memory.Minute;
        for (var cable = 0; cable < tree.Cables.Count; cable++)
            if (memory.Pedestals[cable] is { } pedestal)
                tree.Pedestals[cable]?.Resume(pedestal);
        tenMinutes.Resume(memory.TenMinutes);
        watts.Resume(memory.Watts);
        remembered.AddRange(memory.Remembered);
        for (var part = 0; part < parts.Count; part++)
            parts[part].Resume(memory.Parts[part], remembered);
        foreach (var joint in memory.Since)
            since[joint.At] = (joint.Since, joint.OrBefore);
        Joints = Described();
    }
}

/// <param name="Minute">The one under way.</param>
/// <param name="Pedestals">By cable; null where none stands at its outer end.</param>
sealed record JointLearnerMemory(
    DateTimeOffset? Minute, IReadOnlyList<PedestalMinuteMemory?> Pedestals, TenMinutesMemory TenMinutes, CableWattsMemory Watts,
    IReadOnlyList<TreeMeans> Remembered, IReadOnlyList<JointsMemory> Parts, IReadOnlyList<JointSince> Since);

/// <param name="OrBefore">It was there in all that is remembered.</param>
readonly record struct JointSince(CableConductor At, DateTimeOffset Since, bool OrBefore);
