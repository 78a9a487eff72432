using System.Numerics;

namespace Farberth.Grid.Network;

/// <summary>The impedance behind which a dock's ideal source stands, seen from the low-voltage side.</summary>
public static class SourceImpedance
{
    /// <summary>A transformer by its nameplate.</summary>
    /// <param name="ratingVoltAmperes">All legs together.</param>
    /// <param name="impedanceShare">0.025 for 2.5 %.</param>
    /// <param name="reactanceToResistance">X/R of the transformer.</param>
    /// <remarks>
    /// Z = R + jX per unit, |Z| the nameplate share. On three legs it stands in each leg, on V²/(S/3); a delta or
    /// grounded-wye winding on the other side gives zero sequence the same value. On one leg the base is V²/S.
    /// On 120/240 V it is split between the windings, see <see cref="CentreTapped"/>.
    /// </remarks>
    public static ImpedanceMatrix Transformer(
        SupplySystem supply, double ratingVoltAmperes, double impedanceShare, double reactanceToResistance)
    {
        var perUnit = Split(impedanceShare, reactanceToResistance);
        var baseOhms = supply.NominalVolts * supply.NominalVolts / ratingVoltAmperes;
        if (supply == SupplySystem.SplitPhase120)
            return Interlaced(perUnit, baseOhms);
        return ImpedanceMatrix.Separate(supply, perUnit * baseOhms * (supply.IsThreePhase ? 3 : 1), 0);
    }

    /// <summary>A service known by its bolted leg-to-neutral fault current alone.</summary>
    public static ImpedanceMatrix Service(SupplySystem supply, double faultAmps, double reactanceToResistance) =>
        ImpedanceMatrix.Separate(supply, Split(supply.NominalVolts / faultAmps, reactanceToResistance), 0);

    /// <summary>
    /// A centre-tapped transformer as its three windings. With the mid-point as neutral, I1 and I2 flowing out of
    /// the two ends, and everything referred to one half winding:
    ///   primary ampere-turns  n·I0 = I1 − I2,      half-winding emf  E = Vs/n − z0·(I1 − I2),  z0 = Z0/n²,
    ///   V1N = E − Z1·I1,   V2N = −E − Z2·I2.
    /// So behind ±Vs/n stands the matrix [[Z1 + z0, −z0], [−z0, Z2 + z0]]: one leg's load moves the other leg's volts.
    /// </summary>
    /// <param name="primary">z0: the primary winding referred to one half winding, ohm.</param>
    public static ImpedanceMatrix CentreTapped(Complex primary, Complex half1, Complex half2) =>
        ImpedanceMatrix.From((row, column) => (row, column) switch
        {
            (Leg.L1, Leg.L1) => half1 + primary,
            (Leg.L2, Leg.L2) => half2 + primary,
            (Leg.L1, Leg.L2) or (Leg.L2, Leg.L1) => -primary,
            _ => 0,
        });

    /// <summary>
    /// The split of a nameplate impedance over interlaced windings, Z0 = 0.5·R + j0.8·X, Z1 = Z2 = R + j0.4·X, per unit
    /// on the whole rating and one half winding's volts (Kersting, Distribution System Modeling and Analysis, ch. 11).
    /// </summary>
    static ImpedanceMatrix Interlaced(Complex perUnit, double baseOhms)
    {
        var primary = new Complex(0.5 * perUnit.Real, 0.8 * perUnit.Imaginary) * baseOhms;
        var half = new Complex(perUnit.Real, 0.4 * perUnit.Imaginary) * baseOhms;
        return CentreTapped(primary, half, half);
    }

    static Complex Split(double magnitude, double reactanceToResistance)
    {
        var resistance = magnitude / Math.Sqrt(1 + reactanceToResistance * reactanceToResistance);
        return new(resistance, resistance * reactanceToResistance);
    }
}
