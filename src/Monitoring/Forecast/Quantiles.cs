namespace Farberth.Monitoring.Forecast;

/// <summary>A forecast of one number as its quantiles: it stays below the value of a level with the chance of that level.</summary>
/// <param name="Values">One for each of <see cref="Levels"/>, never falling; in the unit of whoever holds it.</param>
public sealed record Quantiles(IReadOnlyList<double> Values)
{
    public static IReadOnlyList<double> Levels { get; } = [0.05, 0.10, 0.25, 0.50, 0.75, 0.90, 0.95];

    public double Median => Values[3];

    /// <summary>The value of any level: straight between the known ones; beyond 5 and 95 % that of the end.</summary>
    public double At(double level)
    {
        if (level <= Levels[0])
            return Values[0];
        for (var upper = 1; upper < Levels.Count; upper++)
            if (level <= Levels[upper])
                return Values[upper - 1]
                    + (Values[upper] - Values[upper - 1]) * (level - Levels[upper - 1]) / (Levels[upper] - Levels[upper - 1]);
        return Values[^1];
    }

    /// <summary>Each value changed alike, in order.</summary>
    public Quantiles Each(Func<double, double> change) => new([.. Values.Select(change)]);

    /// <summary>Part of the way from one forecast to another, level by level.</summary>
    /// <param name="share">0: the one; 1: the other.</param>
    public static Quantiles Between(Quantiles one, Quantiles other, double share) =>
        new([.. one.Values.Zip(other.Values, (a, b) => a + share * (b - a))]);

    /// <summary>
    /// How badly a quantile forecast q of level τ did, once y is known: τ·(y − q) where y is above, (1 − τ)·(q − y) where it is below.
    /// In the mean it is least for the true quantile (Koenker and Bassett, Regression Quantiles, Econometrica 46, 1978; Gneiting and
    /// Raftery, Strictly Proper Scoring Rules, JASA 102, 2007, section 6).
    /// </summary>
    public static double PinballLoss(double level, double quantile, double outcome) =>
        outcome >= quantile ? level * (outcome - quantile) : (1 - level) * (quantile - outcome);
}
