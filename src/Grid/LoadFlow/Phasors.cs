using System.Diagnostics.CodeAnalysis;
using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Farberth.Grid.LoadFlow;

/// <summary>One phasor for each leg, in lanes L1, L2, L3 (the fourth is idle). Arithmetic works on all legs at once.</summary>
readonly struct Phasors(Vector256<double> re, Vector256<double> im)
{
    public readonly Vector256<double> Re = re;
    public readonly Vector256<double> Im = im;

    public static Phasors From(IReadOnlyList<Complex> legs)
    {
        double Real(int lane) => lane < legs.Count ? legs[lane].Real : 0;
        double Imaginary(int lane) => lane < legs.Count ? legs[lane].Imaginary : 0;
        return new(
            Vector256.Create(Real(0), Real(1), Real(2), 0),
            Vector256.Create(Imaginary(0), Imaginary(1), Imaginary(2), 0));
    }

    public Complex this[int lane] => new(Re[lane], Im[lane]);

    /// <summary>One leg's phasor in every lane.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Phasors Spread([ConstantExpected] int lane) => new(Vector256.Create(Re[lane]), Vector256.Create(Im[lane]));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Phasors operator +(Phasors a, Phasors b) => new(a.Re + b.Re, a.Im + b.Im);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Phasors operator -(Phasors a, Phasors b) => new(a.Re - b.Re, a.Im - b.Im);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Phasors operator *(Phasors a, Phasors b) => new(
        Vector256.FusedMultiplyAdd(-a.Im, b.Im, a.Re * b.Re),
        Vector256.FusedMultiplyAdd(a.Re, b.Im, a.Im * b.Re));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Phasors operator *(Phasors a, Vector256<double> real) => new(a.Re * real, a.Im * real);

    /// <summary>|phasor|², lane by lane.</summary>
    public Vector256<double> Squared
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        get => Vector256.FusedMultiplyAdd(Re, Re, Im * Im);
    }

    /// <summary>|phasor|, lane by lane.</summary>
    public Vector256<double> Magnitudes
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        get => Vector256.Hypot(Re, Im);
    }

    /// <summary>Each leg takes the next one's place: (L2, L3, L1) on three legs, (L2, L1) on two.</summary>
    public Phasors Next(int legs) => legs == 3
        ? new(Vector256.Shuffle(Re, Vector256.Create(1L, 2, 0, 3)), Vector256.Shuffle(Im, Vector256.Create(1L, 2, 0, 3)))
        : new(Vector256.Shuffle(Re, Vector256.Create(1L, 0, 2, 3)), Vector256.Shuffle(Im, Vector256.Create(1L, 0, 2, 3)));

    /// <summary>The inverse of <see cref="Next"/>.</summary>
    public Phasors Previous(int legs) => legs == 3
        ? new(Vector256.Shuffle(Re, Vector256.Create(2L, 0, 1, 3)), Vector256.Shuffle(Im, Vector256.Create(2L, 0, 1, 3)))
        : Next(legs);
}
