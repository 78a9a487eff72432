using System.Numerics;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

/// <summary>The cable whose neutral explains the residuals of all meters best.</summary>
/// <remarks>
/// A neutral conductor with R_x ohm too much, in the cable c with the neutral current I_N outwards, lifts the neutral of
/// every bus beyond c, and of no other bus, by the same
///   δ = −R_x·I_N = R_x·ΣI_legs                        (currents outwards, so I_N = −ΣI_legs).
/// A meter shows r_pk = −Re(δ·u_k*)·b_p + e_pk, b_p = 1 beyond c, else 0. The errors e go together: amps that are not known and cables that are
/// not as long as written show in all meters that share their way, and in the sum of the legs too, where a neutral does not show
/// (<see cref="ResidualCovariance"/>, R). Generalised least squares for one candidate, with B the columns of Re δ and, on three legs, Im δ:
///   M = BᵀR⁻¹B,   δ_c = M⁻¹BᵀR⁻¹r,   sd² = tr(M⁻¹) over its columns,   gain_c = rᵀR⁻¹B·δ_c.
/// The candidate with the most gain wins, of those where the current goes the way of the shift: R_x is not negative, by more than three standard
/// deviations of I_δ. Cables with the same meters beyond gain alike; the innermost of them is named, so that nobody beyond is left out of the warning.
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
    /// <summary>Power turned into heat in the bad neutral, W; 0 where no current goes the way of the shift, since it is open.</summary>
    public double Watts => AlongShift <= 0 ? 0 : LeastOhms * NeutralAmps.Magnitude * NeutralAmps.Magnitude;

    public double WattsSd => Hypot(NeutralAmps.Magnitude * SdVolts, Volts.Magnitude * NeutralAmpsSd);

    /// <summary>The resistance too much, ohm; where the current cannot be told from none, the least that explains the shift.</summary>
    public double LeastOhms => Volts.Magnitude / AmpsAlong;

    public double OhmsSd => LeastOhms * Hypot(SdVolts / Volts.Magnitude, NeutralAmpsSd / AmpsAlong);

    double AmpsAlong => Math.Max(NeutralAmpsSd, Math.Abs(AlongShift));

    /// <summary>−Re(δ·conj(I_N))/|δ|: positive where I_N makes such a shift.</summary>
    double AlongShift => -(Volts * Complex.Conjugate(NeutralAmps)).Real / Volts.Magnitude;

    /// <summary>The cable that explains the residuals best; null where there is no meter to look at, or none that a neutral could explain.</summary>
    /// <param name="state">The load flow with the measured amps and healthy neutrals.</param>
    /// <param name="doubtAmps">A: one standard deviation of a bus's unbalanced amps now; a bus left out has none.</param>
    /// <param name="candidates">The outer ends of the branches that can be named.</param>
    public static NeutralShift? Find(
        LoadFlowState state, SharedDrops drops, IReadOnlyList<BusResiduals> readings,
        IReadOnlyDictionary<string, double> doubtAmps, IReadOnlyList<string> candidates)
    {
        if (readings.Count == 0)
            return null;
        var explained = new Explained(state.Feeder, readings, new CholeskyFactor(new ResidualCovariance(state, drops).Of(readings)));
        NeutralShift? best = null;
        var mostGain = 0.0;
        foreach (var branch in state.Feeder.Branches.Where(branch => candidates.Contains(branch.To)))
        {
            var (volts, sd, gain, beyond) = explained.By(branch.To);
            if (!(gain > mostGain * (1 + 1e-9)))
                continue;
            var shift = new NeutralShift(
                branch, volts, sd, state.AmpsInto(branch.To, Leg.N),
                Hypot(
                    Math.Sqrt(doubtAmps.Where(pair => explained.IsBeyond(pair.Key, branch.To)).Sum(pair => pair.Value * pair.Value)),
                    volts.Magnitude / (3 * state.Feeder.Supply.NominalVolts)
                        * state.Feeder.Supply.Legs.Sum(leg => state.AmpsInto(branch.To, leg).Magnitude)),
                beyond);
            if (shift.AlongShift < -3 * shift.NeutralAmpsSd)
                continue;
            (best, mostGain) = (shift, gain);
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
        var (sum, common) = (Complex.Zero, 0.0);
        foreach (var leg in supply.Legs)
            (sum, common) = (sum + residuals[leg] * supply.Direction(leg), common + residuals[leg]);
        return (-LegShare(supply) * sum, common / supply.Legs.Count);
    }

    static double LegShare(SupplySystem supply) => supply.IsThreePhase ? 2.0 / 3 : 1.0 / 2;

    static double Hypot(double a, double b) => Math.Sqrt(a * a + b * b);
}
