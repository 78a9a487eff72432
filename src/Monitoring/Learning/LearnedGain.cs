using Farberth.Grid.Network;

namespace Farberth.Monitoring.Learning;

/// <summary>The voltmeter of one leg of a pedestal.</summary>
public readonly record struct MeterKey(string Pedestal, Leg Leg);

/// <summary>How far a voltmeter shows too much, by all the other meters of its dock.</summary>
/// <param name="Share">0.01: it shows 1 % more than there is.</param>
/// <param name="Sd">One standard deviation of it.</param>
public sealed record LearnedGain(double Share, double Sd)
{
    /// <summary>Assumed: class 0.5, off by at most 0.5 % of its reading.</summary>
    public const double ClassShare = 0.005;

    /// <summary>Outside of its class by more than two standard deviations: it is corrected, and somebody should look at it.</summary>
    public bool IsBeyondClass => Math.Abs(Share) - 2 * Sd > ClassShare;

    /// <summary>The volts that a reading stands for.</summary>
    public double Corrected(double volts) => volts / (1 + Share);
}
