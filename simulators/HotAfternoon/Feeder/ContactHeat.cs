namespace Farberth.HotAfternoon;

/// <summary>How warm an outlet's contacts are.</summary>
/// <remarks>
/// τ·dT/dt = T_air + 30 K·(I/I_n)^1.8 − T, τ = 20 min; all three figures from memory of common practice for plugs
/// (30 K at rated amps, exponent between 1.7 and 2, 15 to 30 min).
/// </remarks>
public sealed class ContactHeat(double ratingAmps, double celsius)
{
    public double Celsius { get; private set; } = celsius;

    public void Step(double seconds, double airCelsius, double amps)
    {
        var settled = airCelsius + 30 * Math.Pow(amps / ratingAmps, 1.8);
        Celsius = settled + (Celsius - settled) * Math.Exp(-seconds / 1200);
    }
}
