using static System.FormattableString;

namespace Farberth.Planning.Flow;

/// <summary>Limits in plain words.</summary>
public static class LimitWords
{
    /// <summary>As "leg L1 of C12 would fall to 107.6 V"; what would happen if a limit is passed.</summary>
    public static string WouldBe(DockLimit limit, double value) => limit.Kind switch
    {
        _ when value is 0 or double.MaxValue => "the dock could not carry it at all",
        LimitKind.Volts => Invariant($"leg {limit.Leg} of {limit.Place} would fall to {value:0.0} V"),
        LimitKind.Cable => Invariant($"the cable to {limit.Place} would carry {value:0} A on {limit.Leg}, its ampacity is {limit.Bound:0} A"),
        LimitKind.Neutral => Invariant($"the neutral of the cable to {limit.Place} would carry {value:0} A, its ampacity is {limit.Bound:0} A"),
        LimitKind.FeederBreaker => Invariant($"the feeder breaker would carry {value:0} A on {limit.Leg}, for hours {limit.Bound:0} A is its most"),
        _ => Invariant($"the transformer would carry {value / 1000:0.0} kVA, its rating is {limit.Bound / 1000:0.#} kVA"),
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
