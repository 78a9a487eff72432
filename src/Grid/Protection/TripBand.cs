namespace Farberth.Grid.Protection;

/// <summary>
/// From when to when a breaker of a family opens, from cold, at a steady current: a band, since each breaker lies
/// somewhere between the published points.
/// </summary>
/// <remarks>
/// One breaker: τ·dθ/dt = i² − θ, it opens at θ = h²; i and h are multiples of the rating, h is what it holds for ever.
///   t(i) = τ·ln(i² / (i² − h²)),  never for i ≤ h.
/// In air of T °C it holds k(T)·h; dividing i by k(T) leads everything back to the reference air, and each published
/// point (m at T_test) to m/k(T_test). Points: holds m_0, opens at m_1 within t_1, at m_2 between t_a and t_2.
/// The breakers that keep to all points:
///   m_0 ≤ h,   τ ≤ t_1 / ln(m_1²/(m_1² − h²)),   t_a ≤ τ·ln(m_2²/(m_2² − h²)) ≤ t_2.
/// h* is where both upper limits of τ meet; a larger h only opens sooner at every i above m_1. The ratio
/// ln(i²/(i² − h²)) / ln(m²/(m² − h²)) rises with h for i &lt; m and falls with it for i &gt; m. So the latest is
///   never for i &lt; m_1, the breaker (h*, its longest τ) for m_1 ≤ i ≤ m_2, the breaker (m_0, its longest τ) above;
/// and the earliest is the breaker (m_0, its shortest τ) up to m_2 and (m_1, its shortest τ) above. The published points lie on
/// the edges. Up to the lower edge of the magnetic band it takes 0.1 s at least, above it may open at once, from its upper edge on
/// it does.
/// </remarks>
public sealed class TripBand
{
    readonly BreakerCalibration calibration;
    readonly double trips;
    readonly double fast;

    public TripBand(BreakerFamily family, double ratingAmps)
    {
        calibration = BreakerCalibration.Of(family, ratingAmps);
        HoldsAtLeast = AtReference(calibration.Holds);
        trips = AtReference(calibration.Trips);
        fast = AtReference(calibration.Fast);
        HoldsAtMost = WhereLimitsMeet();
    }

    public BreakerCalibration Calibration => calibration;

    /// <summary>The least that a sound breaker holds for ever in its reference air, as a multiple of the rating.</summary>
    public double HoldsAtLeast { get; }

    /// <summary>The most, h*.</summary>
    public double HoldsAtMost { get; }

    /// <summary>What the rating becomes in other air: the factor k.</summary>
    public double Ambient(double celsius) => BreakerAmbient.Factor(celsius, calibration.ReferenceCelsius);

    /// <param name="multiple">Current, as a multiple of the rating.</param>
    /// <returns>Seconds; infinite: not at all.</returns>
    public double EarliestSeconds(double multiple, double celsius)
    {
        if (multiple > calibration.MagneticHolds)
            return 0;
        var i = multiple / Ambient(celsius);
        return Math.Max(BreakerCalibration.MagneticSeconds, i <= fast
            ? Seconds(i, HoldsAtLeast, ShortestSeconds(HoldsAtLeast)) : Seconds(i, trips, ShortestSeconds(trips)));
    }

    /// <param name="multiple">Current, as a multiple of the rating.</param>
    /// <returns>Seconds; infinite: it may hold for ever.</returns>
    public double LatestSeconds(double multiple, double celsius)
    {
        var i = multiple / Ambient(celsius);
        var thermal = i < trips * (1 - 1e-12) ? double.PositiveInfinity
            : i <= fast ? Seconds(i, HoldsAtMost, LongestSeconds(HoldsAtMost))
            : Seconds(i, HoldsAtLeast, LongestSeconds(HoldsAtLeast));
        return multiple >= calibration.MagneticTrips ? Math.Min(thermal, BreakerCalibration.MagneticSeconds) : thermal;
    }

    /// <summary>Longest time constant of a breaker that holds <paramref name="h"/> in its reference air.</summary>
    public double LongestSeconds(double h) => Math.Min(
        calibration.Trips.NotAfterSeconds / TimeConstants(trips, h), calibration.Fast.NotAfterSeconds / TimeConstants(fast, h));

    /// <summary>Shortest time constant of a breaker that holds <paramref name="h"/> in its reference air.</summary>
    public double ShortestSeconds(double h) => calibration.Fast.NotBeforeSeconds / TimeConstants(fast, h);

    /// <summary>t(i) of the breaker (h, τ), everything in its reference air.</summary>
    public static double Seconds(double i, double h, double τ) => τ * TimeConstants(i, h);

    static double TimeConstants(double i, double h) =>
        i > h ? -Math.Log(1 - h * h / (i * i)) : double.PositiveInfinity;

    double AtReference(CalibrationPoint point) => point.Multiple / Ambient(point.Celsius);

    double WhereLimitsMeet()
    {
        var (low, high) = (HoldsAtLeast, trips);
        for (var step = 0; step < 60; step++)
        {
            var h = (low + high) / 2;
            if (calibration.Trips.NotAfterSeconds / TimeConstants(trips, h) > calibration.Fast.NotAfterSeconds / TimeConstants(fast, h))
                low = h;
            else
                high = h;
        }
        return low;
    }
}
