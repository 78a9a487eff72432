using Farberth.Monitoring.Words;

namespace Farberth.Planning.Flow;

/// <summary>Limits in plain words.</summary>
public static class LimitWords
{
    /// <summary>As "leg L1 of C12 would fall to 107.6 V"; what would happen if a limit is passed.</summary>
    public static Sentence WouldBe(DockLimit limit, double value) => limit.Kind switch
    {
        _ when value is 0 or double.MaxValue => Sentence.Of("the dock could not carry it at all"),
        LimitKind.Volts => Sentence.Of("leg {0} of {1} would fall to {2:0.0} V", limit.Leg, limit.Place, value),
        LimitKind.Cable => Sentence.Of("the cable to {0} would carry {1:0} A on {2}, its ampacity is {3:0} A", limit.Place, value, limit.Leg, limit.Bound),
        LimitKind.Neutral => Sentence.Of("the neutral of the cable to {0} would carry {1:0} A, its ampacity is {2:0} A", limit.Place, value, limit.Bound),
        LimitKind.FeederBreaker => Sentence.Of("the feeder breaker would carry {0:0} A on {1}, for hours {2:0} A is its most", value, limit.Leg, limit.Bound),
        _ => Sentence.Of("the transformer would carry {0:0.0} kVA, its rating is {1:0.#} kVA", value / 1000, limit.Bound / 1000),
    };

    /// <summary>As "volts at C12 L1" or "transformer".</summary>
    public static string Name(DockLimit limit) => limit.Kind switch
    {
        LimitKind.Volts => $"volts at {limit.Place} {limit.Leg}",
        LimitKind.Cable => $"cable to {limit.Place} {limit.Leg}",
        LimitKind.Neutral => $"neutral of the cable to {limit.Place}",
        LimitKind.FeederBreaker => $"feeder breaker {limit.Leg}",
        _ => "transformer",
    };
}
