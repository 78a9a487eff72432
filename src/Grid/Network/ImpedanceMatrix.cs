using System.Numerics;

namespace Farberth.Grid.Network;

/// <summary>
/// Series impedance of one branch between its two ends, ohm: rows and columns are the conductors L1, L2, L3, N.
/// A conductor that is not there, or whose return is already folded in (Kron-reduced), has zeros.
/// </summary>
/// <remarks>
/// Sign convention, everywhere in Grid: currents flow from the source outwards, in the neutral too, so the neutral's
/// current is minus the sum of the legs'. The volts lost along the branch are Z·I.
/// </remarks>
public sealed class ImpedanceMatrix
{
    public const int Conductors = 4;

    readonly Complex[] ohms;

    ImpedanceMatrix(Complex[] ohms) => this.ohms = ohms;

    public static readonly ImpedanceMatrix Zero = new(new Complex[Conductors * Conductors]);

    public Complex this[Leg row, Leg column] => ohms[(int)row * Conductors + (int)column];

    /// <param name="entry">Ohms of (row, column).</param>
    public static ImpedanceMatrix From(Func<Leg, Leg, Complex> entry)
    {
        var ohms = new Complex[Conductors * Conductors];
        for (var row = Leg.L1; row <= Leg.N; row++)
            for (var column = Leg.L1; column <= Leg.N; column++)
                ohms[(int)row * Conductors + (int)column] = entry(row, column);
        return new(ohms);
    }

    /// <summary>Separate conductors without mutual coupling, as the "to neutral" values of the handbooks mean them.</summary>
    public static ImpedanceMatrix Separate(SupplySystem supply, Complex leg, Complex neutral) =>
        From((row, column) => row != column ? 0 : row == Leg.N ? neutral : supply.Legs.Contains(row) ? leg : 0);

    /// <summary>Three legs by symmetrical components: self (2·Z1 + Z0)/3, mutual (Z0 − Z1)/3; the neutral is in Z0.</summary>
    public static ImpedanceMatrix FromSequence(Complex positive, Complex zero) =>
        From((row, column) => row == Leg.N || column == Leg.N ? 0
            : row == column ? (2 * positive + zero) / 3 : (zero - positive) / 3);

    public static ImpedanceMatrix operator *(ImpedanceMatrix matrix, double factor) =>
        new([.. matrix.ohms.Select(z => z * factor)]);

    public static ImpedanceMatrix operator +(ImpedanceMatrix one, ImpedanceMatrix other) =>
        new([.. one.ohms.Zip(other.ohms, (a, b) => a + b)]);

    /// <summary>
    /// What a leg loses out and back: with I_N = −ΣI_k the leg-to-neutral volts of the outer end are
    /// U_j = U_j(inner) − Σ_k Z_jk·I_k + Σ_k Z_Nk·I_k, k over L1..L3 and N, hence
    /// loop_jk = Z_jk − Z_jN − Z_Nk + Z_NN. This removes the neutral exactly, not approximately, as long as
    /// no current returns through the earth along the dock.
    /// </summary>
    public Complex Loop(Leg row, Leg column) =>
        this[row, column] - this[row, Leg.N] - this[Leg.N, column] + this[Leg.N, Leg.N];

    /// <summary>Volts lost along one conductor: Σ_k (Z_jk − Z_jN)·I_k over the legs.</summary>
    public Complex Drop(Leg conductor, Complex amps1, Complex amps2, Complex amps3)
    {
        var toNeutral = this[conductor, Leg.N];
        return (this[conductor, Leg.L1] - toNeutral) * amps1
            + (this[conductor, Leg.L2] - toNeutral) * amps2
            + (this[conductor, Leg.L3] - toNeutral) * amps3;
    }
}
