using System.Numerics;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

/// <summary>How far the neutral of one bus stands from where the measured amps and a healthy neutral would put it.</summary>
/// <param name="Volts">The shift's phasor, V, against the direction of L1.</param>
/// <param name="SdVolts">What its meter alone may be wrong by.</param>
public readonly record struct BusShift(string Bus, Complex Volts, double SdVolts);

/// <summary>The cable whose neutral explains the shifts of all buses best.</summary>
/// <remarks>
/// A neutral conductor with R_x ohm too much, in the cable c with the neutral current I_N outwards, lifts the neutral of
/// every bus beyond c, and of no other bus, by the same
///   δ = −R_x·I_N = R_x·ΣI_legs                        (currents outwards, so I_N = −ΣI_legs).
/// What is seen is d_p = δ·b_p + e_p, b_p = 1 beyond c, else 0. The errors e are not independent: amps that are not known
/// and cables that are not as long as written shift all buses that share their way. With z_k the shift that one ampere of
/// unbalance makes along a branch (<see cref="PerAmp"/>), σ_q the doubt about the unbalanced amps of bus q and φ the share by which
/// a branch may be off:
///   R_pp′ = s_p²·[p = p′] + Σ_q σ_q²·z_pq·z_p′q + Σ_(k shared) (φ·z_k·|I_N,k|)²,   z_pq = Σ z_k on the way that p and q share.
/// Generalised least squares for one candidate, and how much of the misfit it takes away:
///   δ_c = bᵀR⁻¹d / bᵀR⁻¹b,   sd = 1/√(bᵀR⁻¹b),   gain_c = |bᵀR⁻¹d|² / bᵀR⁻¹b.
/// The candidate with the most gain wins. Cables with the same buses beyond gain alike; the innermost of them is named, so that
/// nobody beyond is left out of the warning.
///   R_x = |δ|/I_δ,   I_δ = |Re(δ·conj(I_N))|/|δ| the part of I_N along δ (two legs do not show the rest of δ),   watts = R_x·|I_N|².
/// The amps' angles turn with the volts, and by a large shift that is more than the load flow knows: |δ|/(3·V)·Σ|I_legs| is doubt about I_N
/// (a third: the part of δ across the volts is about that at a power factor of 0.95).
/// Where I_δ is no more than its own doubt, the division says only "at least"; see <see cref="LeastOhms"/>.
/// Own derivation from Kirchhoff's laws and the textbook estimator (Gauss–Markov).
/// </remarks>
/// <param name="Branch">Inner end first.</param>
/// <param name="Volts">δ.</param>
/// <param name="NeutralAmps">I_N in the branch by the measured amps.</param>
/// <param name="NeutralAmpsSd">The doubt about it, from all buses beyond.</param>
/// <param name="BusesBeyond">How many buses the shift rests on.</param>
public sealed record NeutralShift(
    Branch Branch, Complex Volts, double SdVolts, Complex NeutralAmps, double NeutralAmpsSd, int BusesBeyond)
{
    /// <summary>Share by which the shift along a branch may be off: cable lengths, temperature, gain of the amps. Assumed.</summary>
    internal const double BranchDoubt = 0.15;

    /// <summary>Power turned into heat in the bad neutral, W; 0 where no current goes the way of the shift, since it is open.</summary>
    public double Watts => (Volts * Complex.Conjugate(-NeutralAmps)).Real <= 0 ? 0 : LeastOhms * NeutralAmps.Magnitude * NeutralAmps.Magnitude;

    public double WattsSd => Hypot(NeutralAmps.Magnitude * SdVolts, Volts.Magnitude * NeutralAmpsSd);

    /// <summary>The resistance too much, ohm; where the current cannot be told from none, the least that explains the shift.</summary>
    public double LeastOhms => Volts.Magnitude / AmpsAlong;

    public double OhmsSd => LeastOhms * Hypot(SdVolts / Volts.Magnitude, NeutralAmpsSd / AmpsAlong);

    double AmpsAlong => Math.Max(NeutralAmpsSd, Math.Abs((Volts * Complex.Conjugate(NeutralAmps)).Real) / Volts.Magnitude);

    /// <summary>The cable that explains the shifts best; null where there is no bus to look at.</summary>
    /// <param name="state">The load flow with the measured amps and healthy neutrals.</param>
    /// <param name="doubtAmps">σ_q, A: one standard deviation of a bus's unbalanced amps; a bus left out has none.</param>
    /// <param name="candidates">The outer ends of the branches that can be named.</param>
    public static NeutralShift? Find(
        LoadFlowState state, IReadOnlyList<BusShift> shifts, IReadOnlyDictionary<string, double> doubtAmps,
        IReadOnlyList<string> candidates)
    {
        if (shifts.Count == 0)
            return null;
        var paths = new SharedPaths(state);
        var factor = new CholeskyFactor(paths.Covariance(shifts, doubtAmps));
        var weighted = (Re: factor.Solve([.. shifts.Select(s => s.Volts.Real)]), Im: factor.Solve([.. shifts.Select(s => s.Volts.Imaginary)]));
        NeutralShift? best = null;
        var mostGain = 0.0;
        foreach (var branch in state.Feeder.Branches.Where(branch => candidates.Contains(branch.To)))
        {
            double[] beyond = [.. shifts.Select(shift => paths.IsBeyond(shift.Bus, branch.To) ? 1.0 : 0.0)];
            var information = Dot(beyond, factor.Solve(beyond));
            if (information <= 0)
                continue;
            var pull = new Complex(Dot(beyond, weighted.Re), Dot(beyond, weighted.Im));
            var gain = pull.Magnitude * pull.Magnitude / information;
            if (gain <= mostGain * (1 + 1e-9))
                continue;
            mostGain = gain;
            best = new(
                branch, pull / information, 1 / Math.Sqrt(information), state.AmpsInto(branch.To, Leg.N),
                Hypot(
                    Math.Sqrt(doubtAmps.Where(pair => paths.IsBeyond(pair.Key, branch.To)).Sum(pair => pair.Value * pair.Value)),
                    pull.Magnitude / information / (3 * state.Feeder.Supply.NominalVolts)
                        * state.Feeder.Supply.Legs.Sum(leg => state.AmpsInto(branch.To, leg).Magnitude)),
                (int)beyond.Sum());
        }
        return best;
    }

    /// <summary>
    /// The shift of a bus from its residuals r_k = measured − computed volts of leg k with direction u_k (unit phasor).
    /// |U_k − δ| ≈ |U_k| − Re(δ·conj(u_k)), and the supply as a whole stands higher by m: r_k = m − Re(δ·conj(u_k)). The
    /// directions of the legs add up to nothing, so the least-squares fit is
    ///   m = mean(r_k),   δ = −(1/λ)·Σ r_k·u_k,   λ = 2 on two legs (one line), 3/2 on three.
    /// Two legs show δ only along L1. On three the neglected term |δ|²/(4·|U|) goes into m.
    /// </summary>
    /// <param name="residuals">V, for every leg of the supply.</param>
    public static (Complex Shift, double Common) OfResiduals(SupplySystem supply, PerLeg residuals)
    {
        var sum = supply.Legs.Aggregate(Complex.Zero, (all, leg) => all + residuals[leg] * supply.Direction(leg));
        return (-LegShare(supply) * sum, supply.Legs.Average(leg => residuals[leg]));
    }

    /// <summary>
    /// The shift that one ampere on one leg makes along a branch: its leg's drop comes with the share 1/λ
    /// (the rest is common to the legs), its neutral's drop whole. (1/λ)·|Z_leg| + |Z_N|; on two legs (Z_leg + 2·Z_N)/2.
    /// </summary>
    internal static double PerAmp(SupplySystem supply, ImpedanceMatrix impedance) =>
        LegShare(supply) * impedance[Leg.L1, Leg.L1].Magnitude + impedance[Leg.N, Leg.N].Magnitude;

    static double LegShare(SupplySystem supply) => supply.IsThreePhase ? 2.0 / 3 : 1.0 / 2;

    static double Dot(double[] a, double[] b) => a.Zip(b, (x, y) => x * y).Sum();

    static double Hypot(double a, double b) => Math.Sqrt(a * a + b * b);
}
