namespace Farberth.Grid.Protection;

/// <summary>How warm a transformer is inside, above the air around it, K.</summary>
/// <param name="TopLiquidKelvin">ΔΘ_TO, liquid at the top of the tank; 0 in a dry one.</param>
/// <param name="GradientKelvin">ΔΘ_H, hottest spot of the winding above that.</param>
/// <remarks>
/// IEEE C57.91 clause 7 (equations and figures confirmed from the 2024 edition's reference code, but for what is marked). K is the
/// load as a share of the rating, R the ratio of load loss at rating to no-load loss:
///   Θ_H = Θ_A + ΔΘ_TO + ΔΘ_H
///   ΔΘ_TO,∞ = ΔΘ_TO,R·((K²·R + 1)/(R + 1))^n        τ_TO·dΔΘ_TO/dt = ΔΘ_TO,∞ − ΔΘ_TO
///   ΔΘ_H,∞  = ΔΘ_H,R·K^(2m)                         τ_w·dΔΘ_H/dt  = ΔΘ_H,∞ − ΔΘ_H
/// IEC 60076-7 has the same with x = n, y = 2m and factors k for the overshoot of large units; for distribution transformers they are 1
/// (from memory). The clause also shortens τ_TO a little while n is not 1; τ_TO itself is known no better, so it is held.
/// A dry transformer (C57.96, from memory) has no liquid: one rise with K^(2m), m = 0.8, and its winding's own time constant.
/// </remarks>
public readonly record struct TransformerHeat(double TopLiquidKelvin, double GradientKelvin)
{
    public double HotSpotKelvin => TopLiquidKelvin + GradientKelvin;

    /// <summary>After hours at a load.</summary>
    /// <param name="load">K.</param>
    public static TransformerHeat Settled(TransformerRise rise, double load) => new(
        rise.TopLiquidKelvin * Math.Pow((load * load * rise.LossRatio + 1) / (rise.LossRatio + 1), rise.LiquidExponent),
        (rise.HotSpotKelvin - rise.TopLiquidKelvin) * Math.Pow(load, 2 * rise.WindingExponent));

    /// <param name="load">K, held over the time.</param>
    public TransformerHeat Follow(TransformerRise rise, double load, TimeSpan time)
    {
        var settled = Settled(rise, load);
        return new(
            TopLiquidKelvin + (settled.TopLiquidKelvin - TopLiquidKelvin) * (1 - Math.Exp(-time / rise.LiquidTime)),
            GradientKelvin + (settled.GradientKelvin - GradientKelvin) * (1 - Math.Exp(-time / rise.WindingTime)));
    }
}

/// <summary>A transformer's rises over the air at its rating, K, and how they follow the load.</summary>
/// <param name="HotSpotKelvin">Hottest spot, ΔΘ_TO,R + ΔΘ_H,R.</param>
/// <param name="LossRatio">R.</param>
/// <param name="LiquidExponent">n.</param>
/// <param name="WindingExponent">m.</param>
public sealed record TransformerRise(
    double TopLiquidKelvin, double HotSpotKelvin, double LossRatio, double LiquidExponent, double WindingExponent,
    TimeSpan LiquidTime, TimeSpan WindingTime)
{
    /// <summary>
    /// Natural circulation, 65 °C winding rise: hottest spot 80 K, n = m = 0.8, τ_w = 5 min (confirmed); top liquid 55 K (confirmed for one
    /// example, assumed for others); R = 5 (assumed); τ_TO = 3 h, of 2 to 4 h (from memory).
    /// </summary>
    public static TransformerRise Liquid { get; } = new(55, 80, 5, 0.8, 0.8, TimeSpan.FromHours(3), TimeSpan.FromMinutes(5));

    /// <summary>
    /// Ventilated, class 220 °C: 150 K mean and 30 K more at the hottest spot, m = 0.8 (from memory); 1 h (assumed: small units
    /// take about as long).
    /// </summary>
    public static TransformerRise Dry { get; } = new(0, 180, 5, 1, 0.8, TimeSpan.FromHours(1), TimeSpan.FromHours(1));
}
