using System.Collections.Immutable;

namespace Farberth.Monitoring.Forecast;

// What is usual at an hour of a day of the week with so much heat: a local straight line. Of the same time of the last 28 days,
// three quarters to each side, with value v_i and cooling degrees D_i = max(0, T_i − 20 °C):
//
//     w_i = 2^(−days/14) · similar(day of the week) · (1 − |quarters|/4)
//     v̄ = Σ w·v / Σ w,   D̄ = Σ w·D / Σ w
//     β = (Σ w·(v − v̄)·(D − D̄) + λ·β₀) / (Σ w·(D − D̄)² + λ)
//     usual = v̄ + β·(D* − D̄)
//
// D* is the forecast's. β₀ is what is known of the slope otherwise: of the dock an assumption, of an outlet the dock's slope in
// proportion of what it draws. λ = 6 K² is about a day's worth of spread. All of it assumed but the form: a kernel-weighted ridge.

/// <summary>What is usual, and how it goes with the heat.</summary>
/// <param name="Mean">NaN while no day has been seen.</param>
/// <param name="Slope">Per kelvin.</param>
readonly record struct Profile(double Mean, double Slope)
{
    /// <summary>Above this the air conditioners work (assumed).</summary>
    public const double CoolingFromCelsius = 20;

    /// <summary>Assumed of a dock before anything is learned: 4 % more for each kelvin.</summary>
    public const double AssumedSlopeShare = 0.04;

    const double Ridge = 6;
    const double HalfLifeDays = 14;
    const int SideQuarters = 3;

    static readonly ImmutableArray<double> DayWeights = [.. Enumerable.Range(0, QuarterRing.Days).Select(ago => Math.Pow(2, -ago / HalfLifeDays))];

    /// <param name="target">A quarter later than all that is known of the values.</param>
    /// <param name="degrees">D*; NaN: nothing is known of the heat then, and it is left out.</param>
    /// <param name="slopeShare">β₀ as a share of v̄.</param>
    public static Profile At(
        QuarterRing values, QuarterRing cooling, long target, DayOfWeek day, double degrees, double slopeShare)
    {
        double sw = 0, sx = 0, sy = 0, sxx = 0, sxy = 0;
        for (var ago = 1; ago < QuarterRing.Days; ago++)
        {
            var dayWeight = DayWeights[ago] * Similar(day, (DayOfWeek)(((int)day - ago % 7 + 7) % 7));
            for (var side = -SideQuarters; side <= SideQuarters; side++)
            {
                var at = target - ago * Quarters.PerDay + side;
                var y = values[at];
                if (double.IsNaN(y))
                    continue;
                var (w, x) = (dayWeight * (1 - Math.Abs(side) / (SideQuarters + 1.0)), cooling[at] - degrees);
                x = double.IsNaN(x) ? 0 : x;
                (sw, sx, sy, sxx, sxy) = (sw + w, sx + w * x, sy + w * y, sxx + w * x * x, sxy + w * x * y);
            }
        }
        if (sw == 0)
            return new(double.NaN, 0);
        var (meanX, meanY) = (sx / sw, sy / sw);
        var slope = (sxy - sw * meanX * meanY + Ridge * slopeShare * meanY) / (sxx - sw * meanX * meanX + Ridge);
        return new(meanY - slope * meanX, slope);
    }

    /// <summary>How much a day of the week says of another: marinas are full at the end of the week (assumed).</summary>
    static double Similar(DayOfWeek one, DayOfWeek other) => (Kind(one), Kind(other)) switch
    {
        _ when one == other => 1,
        (0, 0) => 0.6,
        (2, 2) => 0.6,
        (0, 1) or (1, 0) => 0.3,
        _ => 0.05,
    };

    /// <summary>0 Monday to Thursday, 1 Friday, 2 the weekend.</summary>
    static int Kind(DayOfWeek day) => day switch
    {
        DayOfWeek.Friday => 1,
        DayOfWeek.Saturday or DayOfWeek.Sunday => 2,
        _ => 0,
    };
}
