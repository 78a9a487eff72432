using System.Numerics;

namespace Farberth.Grid.Estimation;

// What two meters say of the cables between them. Conductors L1..L3 and N; J_k the amps outwards in a leg, I_N = −ΣJ. Along
// a cable the leg-to-neutral volts fall by Z_k·J_k + Z_N·ΣJ. Seen along the direction u_k of the leg's phasor, with the
// cable's length off by ε and ΔR_c too much in conductor c:
//
//     |U_k| − |U_k'| = Σ_cables (1 + ε)·d_k + ΔR_k·j_k + ΔR_N·n_k
//     j_k = Re(u_k*·J_k)          what the leg's own current loses in an ohm
//     n_k = Re(u_k*·ΣJ)           what the neutral's return loses: it lowers the heavy leg and lifts the light one
//     d_k = Re(u_k*·(Z_k·J_k + Z_N·ΣJ))   by the site file, at the temperature of then
//
// The part of the drop across u_k is left out: it counts by its square over 2·|U|, under a millivolt on a dock. Meters show
// M = (1 + g)·|U|. With γ_c = g(inner end) − g(outer end), for every cable, of M_k − M_k' − Σd_k = z_k there remains
//
//     z_k = Σ_cables (ε·d_k + ΔR_k·j_k + ΔR_N·n_k + γ_k·M_k') + Σ_s b_s·a_s + noise.
//
// a_s are the amps by which a silent pedestal draws more, on one leg m, than was guessed. They pass every cable from the
// source to it, and through the neutral they move the volts of all legs, with the ohms that are really there:
//
//     b_s = Σ_cables that carry it Re(u_k*·e_s·(Z_N + ΔR_N + (Z_m + ΔR_m if m = k))),   e_s the guess's direction
//
// Since ΔR·a is a product of two unknowns, the lines are drawn at the best â and ΔR̂ so far (Gauss and Newton): j and n, but not d,
// with the guess and â, b with ΔR̂, and the product that then is in both, b(ΔR̂)·â less b(0)·â, is added to z.
//
// The noise of a mean: σ² + (w·R·j_k)² + (w·R_N·n_k)², w the warmth that comes and goes and that nobody models.

/// <summary>One leg's line z = hᵀ·x + bᵀ·a + noise, between two meters.</summary>
/// <param name="Outer">The outer meter.</param>
/// <param name="Volts">z.</param>
/// <param name="Variance">Of the noise without σ², V².</param>
/// <param name="Places">Of the unknowns in x.</param>
/// <param name="Factors">h, at those places.</param>
/// <param name="SilentFactors">b, by silent leg.</param>
readonly record struct MeterLine(
    int Outer, double Volts, double Variance, int[] Places, double[] Factors, double[] SilentFactors);

/// <summary>Where the unknowns of some cables of a tree stand in x: by cable ε, ΔR by conductor (the neutral last), γ by leg.</summary>
/// <param name="First">The first of these cables.</param>
readonly record struct JointUnknowns(int First, int Cables, int Legs)
{
    int OfCable => 2 * Legs + 2;

    public int Count => Cables * OfCable;

    public int End => First + Cables;

    public int Length(int cable) => (cable - First) * OfCable;

    public int Excess(CableConductor at) => Length(at.Cable) + 1 + at.Conductor;

    public int Gain(int cable, int leg) => Length(cable) + 2 + Legs + leg;
}

/// <summary>A leg of a silent pedestal, and by how much its guessed amps may be off.</summary>
/// <param name="Direction">Unit phasor: that of the guess, so the power factor is that of those who are heard.</param>
readonly record struct SilentLeg(int Cable, int Leg, double AmpsSd, Complex Direction);

/// <summary>A bad joint on the way to being known.</summary>
/// <param name="From">When it began; the earliest of times if it was always there.</param>
readonly record struct SuspectJoint(double Ohms, DateTimeOffset From);

/// <summary>All lines of one <see cref="TreeMeans"/>.</summary>
sealed class MeterLines
{
    readonly MeteredTree tree;
    readonly JointUnknowns unknowns;
    readonly TreeMeans means;
    readonly Complex[,] guessed;
    readonly Complex[,] carried;
    readonly IReadOnlyList<double> silentAmps;
    readonly bool[][] carries;
    readonly IReadOnlyDictionary<CableConductor, SuspectJoint> suspects;
    readonly double warmth;

    /// <param name="suspects">Bad joints as far as they are known; before its beginning such a joint counts nothing.</param>
    /// <param name="silentAmps">â by silent leg as far as it is known; null for 0.</param>
    public MeterLines(
        MeteredTree tree, JointUnknowns unknowns, TreeMeans means,
        IReadOnlyDictionary<CableConductor, SuspectJoint> suspects, IReadOnlyList<double>? silentAmps, double warmthShareSd)
    {
        (this.tree, this.unknowns, this.means, this.suspects, warmth) = (tree, unknowns, means, suspects, warmthShareSd);
        guessed = tree.Carried(means.Amps);
        Silent = [.. from cable in Enumerable.Range(0, tree.Cables)
                     from leg in Enumerable.Range(0, tree.Legs)
                     where means.AmpsSd[cable, leg] > 0 && IsFedThrough(cable)
                     select new SilentLeg(cable, leg, means.AmpsSd[cable, leg], Direction(means.Amps[cable, leg], leg))];
        carries = [.. Silent.Select(silent => Path(silent.Cable))];
        this.silentAmps = silentAmps ?? new double[Silent.Count];
        carried = tree.Carried(Drawn());
        All = [.. Lines()];
    }

    public IReadOnlyList<SilentLeg> Silent { get; }

    public IReadOnlyList<MeterLine> All { get; }

    IEnumerable<MeterLine> Lines()
    {
        for (var outer = unknowns.First; outer < unknowns.End; outer++)
        {
            var (inner, cables) = Run(outer);
            if (inner < 0 || !IsHeard(outer) || cables[^1] < unknowns.First)
                continue;
            for (var leg = 0; leg < tree.Legs; leg++)
                yield return Line(inner, outer, cables, leg);
        }
    }

    /// <summary>What was heard, and the guess with â.</summary>
    Complex[,] Drawn()
    {
        var drawn = (Complex[,])means.Amps.Clone();
        for (var s = 0; s < Silent.Count; s++)
            drawn[Silent[s].Cable, Silent[s].Leg] += silentAmps[s] * Silent[s].Direction;
        return drawn;
    }

    bool IsHeard(int cable) => !double.IsNaN(means.Volts[cable, 0]);

    bool IsFedThrough(int cable)
    {
        while (cable >= unknowns.End)
            cable = tree.Parents[cable];
        return cable >= unknowns.First;
    }

    bool[] Path(int cable)
    {
        var path = new bool[tree.Cables];
        for (; cable >= 0; cable = tree.Parents[cable])
            path[cable] = true;
        return path;
    }

    /// <summary>The nearest meter inwards and the cables to it; −1 when there is none before the source.</summary>
    (int Inner, List<int> Cables) Run(int outer)
    {
        var cables = new List<int> { outer };
        var inner = tree.Parents[outer];
        for (; inner >= 0 && !IsHeard(inner); inner = tree.Parents[inner])
            cables.Add(inner);
        return (inner, cables);
    }

    MeterLine Line(int inner, int outer, List<int> cables, int leg)
    {
        var line = new MeterLine(
            outer, means.Volts[inner, leg] - means.Volts[outer, leg], 0,
            new int[4 * cables.Count], new double[4 * cables.Count], new double[Silent.Count]);
        for (var at = 0; at < cables.Count; at++)
            line = Through(line, 4 * at, cables[at], leg);
        return line;
    }

    /// <summary>The line with one cable more: what it loses by the site file is taken off, its unknowns are added.</summary>
    MeterLine Through(MeterLine line, int at, int cable, int leg)
    {
        var (wire, neutral) = (means.LineOhms[cable], means.NeutralOhms[cable]);
        var (own, back) = Seen(carried, cable, leg);
        var (ownGuess, backGuess) = Seen(guessed, cable, leg);
        var drop = (wire * ownGuess + neutral * backGuess).Real;
        Set(0, unknowns.Length(cable), drop);
        Set(1, unknowns.Excess(new(cable, leg)), IsYetToCome(new(cable, leg)) ? 0 : own.Real);
        Set(2, unknowns.Excess(new(cable, tree.Legs)), IsYetToCome(new(cable, tree.Legs)) ? 0 : back.Real);
        Set(3, unknowns.Gain(cable, leg), means.Volts[line.Outer, leg]);
        var product = 0.0;
        for (var s = 0; s < Silent.Count; s++)
            if (carries[s][cable])
            {
                var (file, excess) = SilentFactors(cable, leg, Silent[s]);
                line.SilentFactors[s] += file + excess;
                product += excess * silentAmps[s];
            }
        return line with
        {
            Volts = line.Volts - drop + product,
            Variance = line.Variance + warmth * warmth * (Squared(wire.Real * own.Real) + Squared(neutral.Real * back.Real)),
        };

        void Set(int offset, int place, double factor) =>
            (line.Places[at + offset], line.Factors[at + offset]) = (place, factor);
    }

    /// <summary>A leg's current and that of all legs, along the leg's volts.</summary>
    (Complex Own, Complex Back) Seen(Complex[,] amps, int cable, int leg)
    {
        var along = Complex.Conjugate(tree.Directions[leg]);
        var back = Complex.Zero;
        for (var other = 0; other < tree.Legs; other++)
            back += amps[cable, other];
        return (along * amps[cable, leg], along * back);
    }

    Complex Direction(Complex guess, int leg) => guess == 0 ? tree.Directions[leg] : guess / guess.Magnitude;

    /// <summary>One cable's part of b_s: by the site file, and by what is known of bad joints.</summary>
    (double File, double Excess) SilentFactors(int cable, int leg, SilentLeg silent)
    {
        var (file, excess) = (means.NeutralOhms[cable], ExcessOhms(new(cable, tree.Legs)));
        if (silent.Leg == leg)
            (file, excess) = (file + means.LineOhms[cable], excess + ExcessOhms(new(cable, leg)));
        var along = Complex.Conjugate(tree.Directions[leg]) * silent.Direction;
        return ((along * file).Real, (along * excess).Real);
    }

    bool IsYetToCome(CableConductor at) => suspects.TryGetValue(at, out var suspect) && means.From < suspect.From;

    double ExcessOhms(CableConductor at) =>
        suspects.TryGetValue(at, out var suspect) && means.From >= suspect.From ? suspect.Ohms : 0;

    static double Squared(double value) => value * value;
}
