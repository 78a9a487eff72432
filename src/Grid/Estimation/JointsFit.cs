namespace Farberth.Grid.Estimation;

// From the lines of many means (MeterLine) to joints. Most joints are good, so conductors are let go bad one by one
// (forward selection): the one that lets χ² fall most first, if it is more than z standard deviations above what a good one
// may be. Then all is solved anew about the silent amps and ohms found so far, until they stay. A bad one that no longer
// stands out is good again, and one that was let go is not let go a second time in the same search: silent amps, found anew
// each round, can make a conductor stand out that does not once it is let go, round after round. Others that would do
// nearly as well are its rivals: they cannot be told apart.
// σ of each meter's lines is what the widest model, every conductor bad, leaves over in them.

/// <summary>A conductor that has more ohms than it should.</summary>
/// <param name="OhmsSd">With what a good one may have.</param>
/// <param name="From">When it began; null if it was there in all that is remembered.</param>
/// <param name="Rivals">Conductors that would explain the readings nearly as well.</param>
public sealed record BadJoint(
    CableConductor At, double Ohms, double OhmsSd, DateTimeOffset? From, IReadOnlyList<CableConductor> Rivals);

/// <summary>Finds the bad joints of some cables of a tree; what it found is the beginning of the next search.</summary>
/// <param name="first">The first of these cables.</param>
public sealed class JointsFit(MeteredTree tree, JointsPrior prior, int first, int cables)
{
    /// <summary>
    /// A rival whose χ² is within this of the best cannot be told apart from it: three standard deviations; and a tenth of
    /// what the best lets it fall, since amps that are a few percent off change as much (assumed).
    /// </summary>
    const double Alike = 9;
    const double AlikeShare = 0.1;
    const int MostRounds = 40;

    /// <summary>Ohms within this share of the last round's are settled, if they are so this often.</summary>
    const double Settled = 0.01;
    const int TimesSettled = 2;

    readonly JointUnknowns unknowns = new(first, cables, tree.Legs);
    readonly JointsPriorSds sds = new(prior, new(first, cables, tree.Legs));
    readonly MeterNoise noise = new(tree.Cables, prior);
    Dictionary<CableConductor, SuspectJoint> bad = [];
    IReadOnlyList<TreeMeans> means = [];
    Dictionary<TreeMeans, double[]> silentAmps = new(ReferenceEqualityComparer.Instance);

    public IReadOnlyList<BadJoint> Joints { get; private set; } = [];

    /// <param name="remembered">Oldest first.</param>
    public void Solve(IReadOnlyList<TreeMeans> remembered)
    {
        means = remembered;
        sds.FileOhms(means[^1]);
        var lines = Lines();
        var sums = Sums(lines);
        var widest = Solve(sums, sds.All);
        noise.Learn(lines.SelectMany(mean => sums.LeftOver(mean, widest)));
        var posterior = Settle();
        if (bad.Count > 0 && FindBeginnings())
            posterior = Settle();
        sums = Sums(Lines());
        Joints = [.. bad.Select(pair => Describe(sums, posterior, pair.Key, pair.Value.From))];
    }

    JointsPosterior Settle()
    {
        var tried = new HashSet<CableConductor>();
        var posterior = Round();
        for (var (round, still) = (0, 0); round < MostRounds; round++, posterior = Round())
        {
            var next = StillBad(posterior);
            still = bad.All(old => next.TryGetValue(old.Key, out var now) && Math.Abs(now.Ohms - old.Value.Ohms) < Settled * now.Ohms)
                ? still + 1 : 0;
            bad = next;
            if (still < TimesSettled)
                continue;
            var (best, fall) = sds.All.Where(at => !bad.ContainsKey(at) && !tried.Contains(at))
                .Select(at => (at, Fall: posterior.FallOfChiSquared(at))).DefaultIfEmpty().MaxBy(it => it.Fall);
            if (fall <= prior.Threshold * prior.Threshold)
                break;
            tried.Add(best);
            bad.Add(best, new(0, DateTimeOffset.MinValue));
            still = 0;
        }
        return posterior;
    }

    /// <summary>Solves about the bad joints and silent amps so far, and finds the silent amps anew.</summary>
    JointsPosterior Round()
    {
        var lines = Lines();
        var sums = Sums(lines);
        var posterior = Solve(sums, bad.Keys);
        silentAmps = new(ReferenceEqualityComparer.Instance);
        foreach (var (mean, its) in means.Zip(lines))
            silentAmps[mean] = sums.SilentAmps(its, posterior);
        return posterior;
    }

    Dictionary<CableConductor, SuspectJoint> StillBad(JointsPosterior posterior) => bad
        .Where(it => posterior.Ohms(it.Key) > prior.Threshold * posterior.OhmsSd(it.Key))
        .ToDictionary(it => it.Key, it => it.Value with { Ohms = posterior.Ohms(it.Key) });

    /// <returns>True if any began at another time than was thought.</returns>
    bool FindBeginnings()
    {
        var known = bad;
        bad = known.ToDictionary(it => it.Key, it => it.Value with { From = DateTimeOffset.MinValue });
        var sums = new JointsSums(unknowns, prior, noise.Volts);
        var onsets = bad.Keys.ToDictionary(at => at, at => new JointOnset(unknowns.Excess(at), sums));
        foreach (var (mean, lines) in means.Zip(Lines()))
        {
            foreach (var onset in onsets.Values)
                onset.Note(mean.From);
            sums.Add(lines);
        }
        bad = bad.ToDictionary(it => it.Key, it => it.Value with { From = onsets[it.Key].Best(sds.With(bad.Keys), prior.BadOhmsSd) });
        return bad.Any(it => it.Value.From != known[it.Key].From);
    }

    BadJoint Describe(JointsSums sums, JointsPosterior posterior, CableConductor at, DateTimeOffset from)
    {
        var without = Solve(sums, bad.Keys.Where(other => other != at));
        var fall = without.FallOfChiSquared(at);
        var least = Math.Max(fall - Math.Max(Alike, AlikeShare * fall), prior.Threshold * prior.Threshold);
        return new(at, posterior.Ohms(at), posterior.OhmsSd(at), from == DateTimeOffset.MinValue ? null : from,
            [.. sds.All.Where(other => !bad.ContainsKey(other) && without.FallOfChiSquared(other) > least)]);
    }

    JointsSums Sums(List<MeterLines> lines)
    {
        var sums = new JointsSums(unknowns, prior, noise.Volts);
        foreach (var mean in lines)
            sums.Add(mean);
        return sums;
    }

    /// <summary>Of every mean, about the bad joints and silent amps so far.</summary>
    List<MeterLines> Lines() =>
        [.. means.Select(mean => new MeterLines(tree, unknowns, mean, bad, silentAmps.GetValueOrDefault(mean), prior.WarmthShareSd))];

    JointsPosterior Solve(JointsSums sums, IEnumerable<CableConductor> chosen) => new(sums, unknowns, sds.With(chosen), sds.OfGood);

    public JointsMemory Memory() => new(
        [.. bad.Select(pair => new BadSoFar(pair.Key, pair.Value.Ohms, pair.Value.From))],
        Joints,
        [.. noise.Volts],
        [.. silentAmps.Select(pair => new SilentAmpsThen(pair.Key.From, pair.Value))]);

    /// <summary>Goes on from there.</summary>
    /// <param name="remembered">The means that were solved, and newer ones.</param>
    public void Resume(JointsMemory memory, IReadOnlyList<TreeMeans> remembered)
    {
        bad = memory.Bad.ToDictionary(it => it.At, it => new SuspectJoint(it.Ohms, it.From));
        Joints = memory.Joints;
        noise.Resume(memory.NoiseVolts);
        var byBeginning = remembered.ToDictionary(mean => mean.From);
        silentAmps = new(ReferenceEqualityComparer.Instance);
        foreach (var then in memory.SilentAmps)
            if (byBeginning.TryGetValue(then.From, out var mean))
                silentAmps[mean] = then.Amps;
    }
}

/// <summary>All that <see cref="JointsFit"/> remembers.</summary>
/// <param name="NoiseVolts">σ, by meter.</param>
public sealed record JointsMemory(
    IReadOnlyList<BadSoFar> Bad, IReadOnlyList<BadJoint> Joints, double[] NoiseVolts, IReadOnlyList<SilentAmpsThen> SilentAmps);

/// <param name="From">When it began; the earliest of times if it was always there.</param>
public readonly record struct BadSoFar(CableConductor At, double Ohms, DateTimeOffset From);

/// <summary>â of the means that began then, by silent leg, A.</summary>
public sealed record SilentAmpsThen(DateTimeOffset From, double[] Amps);
