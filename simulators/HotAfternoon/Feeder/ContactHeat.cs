namespace Farberth.HotAfternoon;

/// <summary>How warm an outlet's contacts are: the metal inside, and the housing with the end of the cord around it.</summary>
/// <remarks>
/// A balance of watts. I²·R is made in contacts and terminals; it goes through G to the housing, and from there with the sun's
/// watts into the air by natural convection, whose watts go with the 1.25th power of the difference:
///   C_1·dT_1/dt = w·I²·R·(1 + 0.0039·(T_1 − 20)) − G·(T_1 − T_2)
///   C_2·dT_2/dt = G·(T_1 − T_2) + S·sun − k·(T_2 − T_air)^1.25
/// R is 3.5 W at rated amps and 20 °C; w is how many times that many ohms a worn or corroded contact has (1: sound). G = 0.40 W/K,
/// C_1 = 60 J/K, C_2 = 500 J/K, k = 0.162, S = 2.2 W. All assumed, so that a sound contact rises by some 20 K at rated amps,
/// below the 30 K that UL 498 allows (from memory), in 15 to 30 min (from memory), and the sun alone makes 8 K.
/// The metal's time is C_1/G = 150 s: steps longer than 15 s are divided.
/// </remarks>
/// <param name="wear">w.</param>
public sealed class ContactHeat(double ratingAmps, double celsius, double wear = 1)
{
    const double RatedWatts = 3.5;
    const double WattsPerKelvin = 0.40;
    const double MetalJoulesPerKelvin = 60;
    const double HousingJoulesPerKelvin = 500;
    const double AirWatts = 0.162;
    const double SunWatts = 2.2;
    const double LongestSeconds = 15;

    double housingCelsius = celsius;

    /// <summary>Of the metal.</summary>
    public double Celsius { get; private set; } = celsius;

    /// <param name="sun">Share of the day's strongest sun, 0 to 1.</param>
    public void Step(double seconds, double airCelsius, double sun, double amps)
    {
        var parts = Math.Ceiling(seconds / LongestSeconds);
        for (var part = 0; part < parts; part++)
            Part(seconds / parts, airCelsius, sun, amps / ratingAmps);
    }

    void Part(double seconds, double airCelsius, double sun, double i)
    {
        var made = wear * RatedWatts * i * i * (1 + 0.0039 * (Celsius - 20));
        var through = WattsPerKelvin * (Celsius - housingCelsius);
        var above = housingCelsius - airCelsius;
        var shed = AirWatts * Math.Sign(above) * Math.Pow(Math.Abs(above), 1.25);
        Celsius += (made - through) * seconds / MetalJoulesPerKelvin;
        housingCelsius += (through + SunWatts * sun - shed) * seconds / HousingJoulesPerKelvin;
    }
}
