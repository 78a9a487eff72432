namespace Farberth.Grid.Protection;

/// <summary>What is taken of one kind of plug, receptacle and cord. Temperatures in °C, rises in K.</summary>
/// <param name="RatedAmps">I_n of the outlet.</param>
/// <param name="RatedRiseKelvin">r: what the product standard allows a new contact at rated amps.</param>
/// <remarks>
/// The figures that no standard gives, and where they are from:
///   n = 1.8, between 1.7 and 2 (from memory, common practice for assemblies; 2 is pure I²R);
///   τ_s = 25 min and τ_c = 8 min: a small plug and receptacle take 15 to 30 min, a cord of 10 to 16 mm² 5 to 10 min
///     (orders of magnitude from memory);
///   φ = 0.4 and τ_f = 4 min: the metal inside follows sooner than the housing (assumed);
///   r_c = 20 K: NEC table 400.5(A)(1) lets a cord's conductors reach 60 °C at 30 °C of air (from memory), of which the jacket
///     shows about two thirds (assumed).
/// </remarks>
public sealed record ConnectorModel(double RatedAmps, double RatedRiseKelvin)
{
    public const double Exponent = 1.8;
    public const double FastShare = 0.4;
    public const double FastMinutes = 4;
    public const double SlowMinutes = 25;
    public const double CordMinutes = 8;
    public const double CordRiseKelvin = 20;

    /// <summary>u = (I/I_n)^n, the share of the rated rise that steady amps lead to.</summary>
    public double Share(double amps) => Math.Pow(amps / RatedAmps, Exponent);

    /// <summary>The steady amps of a share.</summary>
    public double Amps(double share) => RatedAmps * Math.Pow(share, 1 / Exponent);
}
