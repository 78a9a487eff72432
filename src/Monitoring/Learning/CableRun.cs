using System.Numerics;
using Farberth.Grid.Estimation;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Learning;

/// <summary>
/// What is learned of the cables between two live meters with none between: usually one cable. Its joint is one of the
/// run's; the currents of its cables differ only by what the silent pedestals between draw, and their mean is taken.
/// </summary>
sealed class CableRun(SiteDefinition site, CableTreeMinute tree, int inner, IReadOnlyList<int> cables)
{
    /// <summary>Assumed: what a site file's length is off by, with what the temperature model adds.</summary>
    const double LengthShareSd = 0.04;

    /// <summary>Assumed: every cable has two ordinary joints in each conductor, together up to about this.</summary>
    const double OrdinaryJointOhms = 0.0005;

    /// <summary>Assumed: meters of class 0.5, and the conductors of one cable that are not equally warm.</summary>
    const double AmpsShareSd = 0.01;
    const double ConductorShareSd = 0.03;

    /// <summary>Assumed: so much the ordinary joints of one conductor differ from those of the next.</summary>
    const double OrdinaryJointOhmsSd = 0.00015;

    const double Threshold = 4;

    readonly CableResistanceSums sums = new(site.Supply.Legs.Count);
    readonly double[] squaredAmps = new double[4];
    readonly WeekOfHours[] week = [new(), new(), new(), new()];
    readonly DateTimeOffset?[] since = new DateTimeOffset?[4];
    readonly double[] squaredSum = new double[4];
    readonly double[] varianceSum = new double[4];
    double fileOhms;
    double fileLoopOhms;
    DateTimeOffset lastHour;

    public int Outer => cables[0];

    /// <summary>How much it rests on.</summary>
    public double Count => sums.Count;

    public void Fade(double share)
    {
        sums.Fade(share);
        for (var conductor = 0; conductor < squaredSum.Length; conductor++)
        {
            squaredSum[conductor] *= share;
            varianceSum[conductor] *= share;
        }
    }

    /// <summary>Takes in a minute.</summary>
    /// <param name="celsius">Of a cable's conductors.</param>
    public void Take(DateTimeOffset minute, Func<int, double> celsius)
    {
        var legs = site.Supply.Legs.Count;
        Span<Complex> drop = stackalloc Complex[3];
        Span<Complex> amps = stackalloc Complex[3];
        var back = Complex.Zero;
        (fileOhms, fileLoopOhms) = (0, 0);
        foreach (var cable in cables)
            back += AddCable(cable, celsius(cable), drop, amps);
        for (var leg = 0; leg < legs; leg++)
        {
            var along = Complex.Conjugate(site.Supply.Direction((Leg)leg));
            var (inside, outside) = (tree.Pedestals[inner]!.Volts(leg), tree.Pedestals[Outer]!.Volts(leg));
            var fileDrop = (along * drop[leg]).Real;
            sums.Add(leg, new(inside - outside - fileDrop, fileDrop, (along * amps[leg]).Real, (along * back).Real, outside));
            Follow(minute, leg, Squared(amps[leg]), tree.AmpsVariance(cables[^1], leg));
        }
        Follow(minute, legs, Squared(back), Enumerable.Range(0, legs).Sum(leg => tree.AmpsVariance(cables[^1], leg)));
    }

    void Follow(DateTimeOffset minute, int conductor, double squared, double variance)
    {
        squaredAmps[conductor] = squared;
        squaredSum[conductor] += squared;
        varianceSum[conductor] += variance;
        week[conductor].Add(minute, squared);
    }

    /// <summary>Adds one cable's drop by the site file, and its share in the mean currents; returns its share of ΣJ.</summary>
    Complex AddCable(int cable, double celsius, Span<Complex> drop, Span<Complex> amps)
    {
        var definition = tree.Cables[cable];
        var perMetre = definition.LengthMetres / definition.Sets;
        Complex Ohms(Grid.Conductors.Conductor wire) => perMetre * new Complex(
            wire.OhmsPerMetre(celsius, definition.Raceway),
            wire.ReactanceOhmsPerMetre(definition.Raceway, site.Supply.Hertz));
        var (line, neutral) = (Ohms(definition.Conductor), Ohms(definition.Neutral));
        var back = Complex.Zero;
        for (var leg = 0; leg < site.Supply.Legs.Count; leg++)
            back += tree.Amps(cable, leg);
        for (var leg = 0; leg < site.Supply.Legs.Count; leg++)
        {
            drop[leg] += line * tree.Amps(cable, leg) + neutral * back;
            amps[leg] += tree.Amps(cable, leg) / cables.Count;
        }
        fileOhms += line.Real;
        fileLoopOhms += line.Real + neutral.Real;
        return back / cables.Count;
    }

    /// <summary>The joints that are clear by now, the one that heats most first.</summary>
    public IReadOnlyList<CableJoint> Joints(DateTimeOffset now)
    {
        var ordinary = OrdinaryJointOhms * cables.Count / fileOhms;
        var fit = JointsFit.Of(sums, new(
            Math.Sqrt(LengthShareSd * LengthShareSd + ordinary * ordinary),
            ExcessOhmsSd: 0.5, GainShareSd: 0.01, NoiseVoltsSd: 0.02, MinutesAlike: 10, Threshold));
        var clear = fit.Joints.Where(joint => joint.ExcessOhms > Threshold * Math.Sqrt(
            Squared(joint.ExcessOhmsSd) + Squared(FileOhmsSd(Index(joint.Conductor))))).ToList();
        FollowSince(now, clear);
        return [.. clear.Select(Describe).OrderByDescending(joint => joint.WattsWorst)];
    }

    /// <summary>Share by which a conductor's amps may be off for the whole time, because pedestals are silent.</summary>
    double SilentShare(int conductor) =>
        squaredSum[conductor] > 0 ? Math.Sqrt(varianceSum[conductor] / squaredSum[conductor]) : 0;

    /// <summary>
    /// What may look like a bad joint in one conductor and is none: amps that nobody measured lose volts out and back, one
    /// conductor is warmer than the other, and good joints are not all alike.
    /// </summary>
    double FileOhmsSd(int conductor) => Math.Sqrt(
        Squared(fileLoopOhms * SilentShare(conductor))
        + Squared(fileOhms * ConductorShareSd)
        + cables.Count * Squared(OrdinaryJointOhmsSd));

    CableJoint Describe(JointEstimate joint)
    {
        var at = Index(joint.Conductor);
        var ofAmps = joint.ExcessOhms * Math.Sqrt(Squared(SilentShare(at)) + AmpsShareSd * AmpsShareSd);
        return new(
            tree.Cables[inner].To,
            tree.Cables[Outer].To,
            [.. cables.Select(cable => tree.Cables[cable].To)],
            joint.Conductor,
            joint.ExcessOhms,
            Math.Sqrt(Squared(joint.ExcessOhmsSd) + Squared(FileOhmsSd(at)) + Squared(ofAmps)),
            joint.ExcessOhms * squaredAmps[at],
            joint.ExcessOhms * week[at].Highest,
            since[at],
            joint.OrElse);
    }

    /// <summary>Once an hour: which conductors have been clear at every full hour, and since which.</summary>
    void FollowSince(DateTimeOffset now, List<JointEstimate> clear)
    {
        if (now.UtcTicks / TimeSpan.TicksPerHour == lastHour.UtcTicks / TimeSpan.TicksPerHour)
            return;
        lastHour = now;
        for (var conductor = 0; conductor < since.Length; conductor++)
            since[conductor] = clear.Any(joint => Index(joint.Conductor) == conductor) ? since[conductor] ?? now : null;
    }

    int Index(Leg conductor) => conductor == Leg.N ? site.Supply.Legs.Count : (int)conductor;

    static double Squared(double value) => value * value;

    static double Squared(Complex value) => value.Real * value.Real + value.Imaginary * value.Imaginary;
}
