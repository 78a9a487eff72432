namespace Farberth.Grid.Protection;

/// <summary>How worn a contact is, as far as it is known, and how much warmer its place is than the model says.</summary>
/// <param name="Factor">F: rise at rated amps over what the standard allows a new one.</param>
/// <param name="OffsetKelvin">b: an enclosure in the sun, a shaded one, a sensor that sits elsewhere.</param>
/// <param name="FactorVariance">Of F.</param>
/// <param name="Covariance">Of F and b, K.</param>
/// <param name="OffsetVariance">Of b, K².</param>
/// <remarks>
/// A measured temperature is linear in both: y = T_air + F·g + b + e, with g = r·(Δ_f + Δ_s) known from the amps of the past.
/// So the recursive estimate is Kalman's, of x = (F, b), H = (g, 1), e of σ = 2 K (sensor and all that the model leaves out; assumed):
///   between readings   x ← x₀ + a·(x − x₀),  P ← a·P·a + (1 − a²)·P₀,   a = e^(−Δt/τ)
///   at a reading       K = P·Hᵀ/(H·P·Hᵀ + σ²),  x ← x + K·(y − T_air − H·x),  P ← P − K·H·P
/// P₀ before anything was measured: F is lognormal with median 0.85 and σ = 0.5 of its logarithm, so that 19 of 20 contacts lie between
/// 0.32 and 2.3; its mean and variance are e^(σ²/2)·0.85 = 0.96 and (e^(σ²) − 1)·0.96² = 0.51². New contacts stay below what their
/// standard allows, old ones pass it (spread assumed). b is 0 ± 4 K. Both are forgotten: F within two days, since another boat brings another
/// plug, b within two hours, since the sun moves (assumed). F is never taken below 0.3: a sensor that shows only the air must not make a
/// contact cold.
/// </remarks>
public readonly record struct ContactWear(
    double Factor, double OffsetKelvin, double FactorVariance, double Covariance, double OffsetVariance)
{
    const double PriorFactor = 0.96;
    const double PriorFactorSd = 0.51;
    const double PriorOffsetSd = 4;
    /// <summary>σ, K.</summary>
    public const double SensorSd = 2;

    const double LeastFactor = 0.3;
    static readonly TimeSpan FactorFor = TimeSpan.FromDays(2);
    static readonly TimeSpan OffsetFor = TimeSpan.FromHours(2);

    /// <summary>Before anything was measured.</summary>
    public static ContactWear Unknown { get; } =
        new(PriorFactor, 0, PriorFactorSd * PriorFactorSd, 0, PriorOffsetSd * PriorOffsetSd);

    public double FactorSd => Math.Sqrt(FactorVariance);

    /// <summary>Some time later, nothing measured.</summary>
    public ContactWear After(TimeSpan time)
    {
        var (aF, aB) = (Math.Exp(-time / FactorFor), Math.Exp(-time / OffsetFor));
        return new(
            PriorFactor + aF * (Factor - PriorFactor),
            aB * OffsetKelvin,
            aF * aF * FactorVariance + (1 - aF * aF) * Unknown.FactorVariance,
            aF * aB * Covariance,
            aB * aB * OffsetVariance + (1 - aB * aB) * Unknown.OffsetVariance);
    }

    /// <param name="kelvinAboveAir">y − T_air.</param>
    /// <param name="unitRiseKelvin">g, the rise of a contact with F = 1.</param>
    public ContactWear Measured(double kelvinAboveAir, double unitRiseKelvin)
    {
        var g = unitRiseKelvin;
        var (pf, pb) = (g * FactorVariance + Covariance, g * Covariance + OffsetVariance);
        var variance = g * pf + pb + SensorSd * SensorSd;
        var (kf, kb) = (pf / variance, pb / variance);
        var innovation = kelvinAboveAir - (Factor * g + OffsetKelvin);
        return new(
            Math.Max(LeastFactor, Factor + kf * innovation),
            OffsetKelvin + kb * innovation,
            FactorVariance - kf * pf,
            Covariance - kf * pb,
            OffsetVariance - kb * pb);
    }

    /// <summary>Rise above the air of contacts that carry the unit rise g.</summary>
    public double RiseKelvin(double unitRiseKelvin) => Factor * unitRiseKelvin + OffsetKelvin;

    /// <summary>One standard deviation of it.</summary>
    public double RiseSd(double unitRiseKelvin) => Math.Sqrt(RiseVariance(unitRiseKelvin));

    internal double RiseVariance(double g) => g * g * FactorVariance + 2 * g * Covariance + OffsetVariance;
}
