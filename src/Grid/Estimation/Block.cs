using System.Runtime.CompilerServices;

namespace Farberth.Grid.Estimation;

/// <summary>A number for each leg.</summary>
readonly struct Triple(double l1, double l2, double l3)
{
    public readonly double L1 = l1, L2 = l2, L3 = l3;

    public double this[int leg] => leg switch { 0 => L1, 1 => L2, _ => L3 };

    public Triple With(int leg, double value) => leg switch
    {
        0 => new(value, L2, L3),
        1 => new(L1, value, L3),
        _ => new(L1, L2, value),
    };

    public static Triple operator +(Triple a, Triple b) => new(a.L1 + b.L1, a.L2 + b.L2, a.L3 + b.L3);

    public static Triple operator -(Triple a, Triple b) => new(a.L1 - b.L1, a.L2 - b.L2, a.L3 - b.L3);
}

/// <summary>A 3 × 3 matrix over the legs, by rows. On a supply with fewer legs the rest is the unit matrix's.</summary>
readonly struct Block(
    double a, double b, double c, double d, double e, double f, double g, double h, double i)
{
    readonly double a = a, b = b, c = c, d = d, e = e, f = f, g = g, h = h, i = i;

    public static Block Diagonal(Triple t) => new(t.L1, 0, 0, 0, t.L2, 0, 0, 0, t.L3);

    /// <summary>Nine numbers, by rows.</summary>
    public static Block From(ReadOnlySpan<double> m) => new(m[0], m[1], m[2], m[3], m[4], m[5], m[6], m[7], m[8]);

    public Triple OnDiagonal => new(a, e, i);

    public Block Transposed => new(a, d, g, b, e, h, c, f, i);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Block operator +(Block x, Block y) => new(
        x.a + y.a, x.b + y.b, x.c + y.c, x.d + y.d, x.e + y.e, x.f + y.f, x.g + y.g, x.h + y.h, x.i + y.i);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Block operator -(Block x, Block y) => new(
        x.a - y.a, x.b - y.b, x.c - y.c, x.d - y.d, x.e - y.e, x.f - y.f, x.g - y.g, x.h - y.h, x.i - y.i);

    public static Block operator -(Block x) => new(-x.a, -x.b, -x.c, -x.d, -x.e, -x.f, -x.g, -x.h, -x.i);

    public static Block operator *(in Block x, in Block y) => new(
        x.a * y.a + x.b * y.d + x.c * y.g, x.a * y.b + x.b * y.e + x.c * y.h, x.a * y.c + x.b * y.f + x.c * y.i,
        x.d * y.a + x.e * y.d + x.f * y.g, x.d * y.b + x.e * y.e + x.f * y.h, x.d * y.c + x.e * y.f + x.f * y.i,
        x.g * y.a + x.h * y.d + x.i * y.g, x.g * y.b + x.h * y.e + x.i * y.h, x.g * y.c + x.h * y.f + x.i * y.i);

    public static Triple operator *(in Block x, Triple y) => new(
        x.a * y.L1 + x.b * y.L2 + x.c * y.L3,
        x.d * y.L1 + x.e * y.L2 + x.f * y.L3,
        x.g * y.L1 + x.h * y.L2 + x.i * y.L3);

    /// <summary>By cofactors; the matrices here are positive definite.</summary>
    public Block Inverse()
    {
        var (A, B, C) = (e * i - f * h, f * g - d * i, d * h - e * g);
        var s = 1 / (a * A + b * B + c * C);
        return new(
            A * s, (c * h - b * i) * s, (b * f - c * e) * s,
            B * s, (a * i - c * g) * s, (c * d - a * f) * s,
            C * s, (b * g - a * h) * s, (a * e - b * d) * s);
    }
}
