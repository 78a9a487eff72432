namespace Farberth.HotAfternoon.Tests.Forecast;

/// <summary>Stated chances beside what came: Brier's score, and how often it came of those about as likely.</summary>
sealed class ChanceRecord
{
    readonly List<(double Chance, bool Came)> all = [];

    public void Add(double chance, bool came) => all.Add((chance, came));

    /// <summary>Mean of (chance − outcome)², less is better (Brier, Verification of Forecasts Expressed in Terms of Probability, 1950).</summary>
    public double Brier => all.Average(one => Math.Pow(one.Chance - (one.Came ? 1 : 0), 2));

    /// <summary>That of always stating how often it came at all.</summary>
    public double BrierOfBaseRate => BaseRate * (1 - BaseRate);

    public double BaseRate => all.Average(one => one.Came ? 1.0 : 0);

    public override string ToString() => $"{all.Count} chances, base rate {BaseRate:P0}, Brier {Brier:F3} (base rate {BrierOfBaseRate:F3}); " + string.Join(", ",
        from one in all
        group one by (int)Math.Min(4, one.Chance * 5) into bin
        orderby bin.Key
        select $"said {bin.Average(one => one.Chance):P0}: came {bin.Average(one => one.Came ? 1.0 : 0):P0} of {bin.Count()}");
}
