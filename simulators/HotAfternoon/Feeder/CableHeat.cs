namespace Farberth.HotAfternoon;

/// <summary>How warm one cable's conductors are.</summary>
/// <remarks>
/// τ·dT/dt = T_air + ΔT_sun·s + 45 K·(I/I_z)² − T, τ = 25 min; I the largest conductor current.
/// 45 K is what the 75 °C ampacity column allows above its 30 °C of surroundings [NEC table 310.16]; τ is of the order
/// of a medium cable in raceway (from memory).
/// </remarks>
public sealed class CableHeat(double ampacityAmps, double celsius)
{
    const double RiseKelvin = 45;
    const double TimeConstantSeconds = 1500;

    public double Celsius { get; private set; } = celsius;

    public void Step(double seconds, double surroundingsCelsius, double amps)
    {
        var share = amps / ampacityAmps;
        var settled = surroundingsCelsius + RiseKelvin * share * share;
        Celsius = settled + (Celsius - settled) * Math.Exp(-seconds / TimeConstantSeconds);
    }
}
