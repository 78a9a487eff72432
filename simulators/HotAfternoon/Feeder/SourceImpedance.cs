using System.Numerics;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon;

/// <summary>What stands between the no-load volts and the feeder's first terminals, ohm, leg by leg.</summary>
/// <remarks>
/// V_k = E_k − Σ_m Z_km·I_m, with the neutral's terminal as reference (0 V).
/// No transformer: Z_kk = E/I_fault with the given X/R, nothing off the diagonal; stiff: all 0.
/// Transformer, z = r + jx per unit on its rating S, E volts leg to neutral:
///   wye: Z_kk = z·3E²/S;  single-phase two-wire: Z_11 = z·E²/S;
///   centre-tapped, interlaced halves, on the base E²/S of one half:
///     primary z₀ = 0.5r + j0.8x, each half z₁ = r + j0.4x [Kersting, Distribution System Modeling, ch. 11].
///   Both halves load the primary; leg 2 stands at 180°, so its current counts the other way:
///     Z_11 = Z_22 = z₀ + z₁, Z_12 = Z_21 = −z₀.
///   Check: equal loads of half the rating each drop 0.5·(z₀ + z₁) + 0.5·z₀ = r + jx.
/// </remarks>
public static class SourceImpedance
{
    public static Complex[,] Of(SupplySystem supply, SourceDefinition source)
    {
        var legs = supply.Legs.Count;
        if (source.Transformer is not { } transformer)
            return Diagonal(legs, Service(source));
        var baseOhms = source.NoLoadVolts * source.NoLoadVolts / transformer.RatingVoltAmperes;
        var z = Split(transformer.ImpedanceShare, transformer.ReactanceToResistance) * baseOhms;
        return legs == 2 ? CentreTapped(z) : Diagonal(legs, legs * z);
    }

    static Complex[,] CentreTapped(Complex z)
    {
        var primary = new Complex(0.5 * z.Real, 0.8 * z.Imaginary);
        var half = new Complex(z.Real, 0.4 * z.Imaginary);
        return new[,] { { primary + half, -primary }, { -primary, primary + half } };
    }

    static Complex Service(SourceDefinition source) => source.FaultAmps is { } amps
        ? Split(source.NoLoadVolts / amps, source.ReactanceToResistance)
        : 0;

    /// <summary>R + jX of a magnitude and X/R.</summary>
    static Complex Split(double magnitude, double ratio) =>
        magnitude / Math.Sqrt(1 + ratio * ratio) * new Complex(1, ratio);

    static Complex[,] Diagonal(int legs, Complex z)
    {
        var matrix = new Complex[legs, legs];
        for (var leg = 0; leg < legs; leg++)
            matrix[leg, leg] = z;
        return matrix;
    }
}
