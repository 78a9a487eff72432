namespace Farberth.Grid.Estimation;

/// <summary>
/// How often a sum of squares of independent standard normal numbers is larger by chance than the one at hand.
/// </summary>
/// <remarks>
/// With ν degrees of freedom, P(χ² > x) = Q(ν/2, x/2), Q the regularised upper incomplete gamma function:
///   Q(a, x) = 1 − x^a·e^(−x)/Γ(a+1) · (1 + x/(a+1) + x²/((a+1)(a+2)) + …)                 for x &lt; a + 1,
///   Q(a, x) = x^a·e^(−x)/Γ(a) · 1/(x+1−a − 1·(1−a)/(x+3−a − 2·(2−a)/(x+5−a − …)))       else.
/// Source: NIST Digital Library of Mathematical Functions, 8.7.1 and 8.9.2 (from memory). One degree is the normal
/// distribution's both tails: P(|z| > k) = P(χ² > k²).
/// </remarks>
public static class ChiSquare
{
    const double Exact = 1e-15;

    /// <param name="value">x, 0 or more.</param>
    /// <param name="degrees">ν, 0 or more; with 0 nothing is ever too large.</param>
    /// <returns>A probability, 0 to 1.</returns>
    public static double ChanceAbove(double value, int degrees)
    {
        if (degrees == 0 || value <= 0)
            return 1;
        var (a, x) = (degrees / 2.0, value / 2);
        var front = Math.Exp(a * Math.Log(x) - x - LogGamma(a));
        return x < a + 1 ? 1 - front * Series(a, x) : front / Fraction(a, x);
    }

    /// <summary>1/a + x/(a(a+1)) + x²/(a(a+1)(a+2)) + …</summary>
    static double Series(double a, double x)
    {
        var (sum, term) = (1 / a, 1 / a);
        for (var n = 1; term > sum * Exact; n++)
            sum += term *= x / (a + n);
        return sum;
    }

    /// <summary>The continued fraction from the front: f = b₀·Π C_n·D_n (Lentz).</summary>
    static double Fraction(double a, double x)
    {
        var b = x + 1 - a;
        var (f, c, d) = (b, b, 0.0);
        for (var n = 1; ; n++)
        {
            var top = -n * (n - a);
            b += 2;
            d = 1 / (b + top * d);
            c = b + top / c;
            f *= c * d;
            if (Math.Abs(c * d - 1) < Exact)
                return f;
        }
    }

    /// <summary>ln Γ of whole and half numbers: Γ(a + 1) = a·Γ(a) from Γ(1) = 1 and Γ(½) = √π.</summary>
    static double LogGamma(double a)
    {
        var at = a % 1 == 0 ? 1.0 : 0.5;
        var log = at == 1 ? 0 : Math.Log(Math.PI) / 2;
        for (; at < a; at++)
            log += Math.Log(at);
        return log;
    }
}
