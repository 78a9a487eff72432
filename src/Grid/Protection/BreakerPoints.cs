namespace Farberth.Grid.Protection;

/// <summary>A few breakers that stand for all that can be in a band: which one an outlet has, nobody knows beforehand.</summary>
/// <remarks>
/// Between the published points nothing is known. What a breaker holds, h, is taken as evenly spread over its band, in
/// <c>count</c> equal strata. Its time constant is spread by its logarithm over the slowest two octaves that the band allows at
/// that h: makers set breakers slow, so that motors can start (common practice, both assumed). The strata of τ follow van der
/// Corput's sequence, so that near values of h get different values of τ and the set is the same each time.
/// </remarks>
public sealed class BreakerPoints
{
    public const double FastestShare = 0.25;

    readonly double[] holds;
    readonly double[] timeConstantsSeconds;

    public BreakerPoints(TripBand band, int count)
    {
        Band = band;
        holds = new double[count];
        timeConstantsSeconds = new double[count];
        for (var at = 0; at < count; at++)
        {
            var h = band.HoldsAtLeast + (band.HoldsAtMost - band.HoldsAtLeast) * (at + 0.5) / count;
            var longest = band.LongestSeconds(h);
            holds[at] = h;
            timeConstantsSeconds[at] = Math.Max(band.ShortestSeconds(h), longest * Math.Pow(FastestShare, VanDerCorput(at)));
        }
    }

    public TripBand Band { get; }

    public int Count => holds.Length;

    /// <summary>What each holds for ever in its reference air, as a multiple of the rating.</summary>
    public IReadOnlyList<double> Holds => holds;

    public IReadOnlyList<double> TimeConstantsSeconds => timeConstantsSeconds;

    /// <summary>e^(−t/τ) of each.</summary>
    public double[] Decays(double seconds) => [.. timeConstantsSeconds.Select(τ => Math.Exp(-seconds / τ))];

    static double VanDerCorput(int at)
    {
        var (value, digit) = (0.0, 0.5);
        for (var rest = at + 1; rest > 0; rest /= 2, digit /= 2)
            value += rest % 2 * digit;
        return value;
    }
}
