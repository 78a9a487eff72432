using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Planning.Codes;
using Farberth.Planning.Flow;
using static System.FormattableString;

namespace Farberth.Planning.Survey;

/// <summary>
/// The load of a dock by NEC 220.87, beside the demand table: the highest 15-minute demand of a record of 30 days, or of a year, times 125 %,
/// against what the feeder may carry (confirmed in copies of the text). It prepares the decision of a licensed person and does not make it.
/// </summary>
/// <param name="Days">From the first quarter to the last.</param>
/// <param name="CoveredShare">Of the quarters of these days: those that know the whole dock.</param>
/// <param name="MaximumVoltAmperes">Highest quarter-hour, drawn from behind the transformer: losses are in it.</param>
/// <param name="MaximumAmps">Of the heaviest leg in its own highest quarter-hour, at the source.</param>
/// <param name="Limits">What the feeder may carry, the tightest first, and how much of it 125 % of the demand takes.</param>
/// <param name="NotCovered">What the record does not say, in sentences.</param>
public sealed record LoadSurvey(
    DockDefinition Dock, DateTimeOffset First, DateTimeOffset Last, double Days, double CoveredShare,
    double MaximumVoltAmperes, DateTimeOffset MaximumAt, double MaximumAmps, Leg MaximumLeg, DateTimeOffset MaximumAmpsAt,
    DockDemand Table, IReadOnlyList<SurveyLimit> Limits, IReadOnlyList<string> NotCovered)
{
    public const double Factor = 1.25;

    /// <summary>The record that 220.87 asks for, where there is none of a year.</summary>
    public const double LeastDays = 30;

    /// <summary>125 % of the measured demand.</summary>
    public double DemandVoltAmperes => Factor * MaximumVoltAmperes;

    /// <returns>Null: no quarter-hour of the record knows the whole dock.</returns>
    public static LoadSurvey? Of(SiteDefinition site, DockHistory history, bool isSubmetered)
    {
        if (history.Whole.Count == 0)
            return null;
        var @case = DockCase.Usual(site, history.Dock, site.Limits.RacewayCelsius);
        var flows = history.Whole.Select(quarter => (quarter.Start, Flow: history.Flow(@case, quarter))).ToList();
        var (maximumAt, maximum) = flows.MaxBy(found => found.Flow.SourceVoltAmperes);
        var (ampsAt, leg, amps) = flows.SelectMany(found => site.Supply.Legs.Select(each =>
            (found.Start, each, Amps: found.Flow.State.AmpsInto(DockDefinition.SourcePoint, each).Magnitude))).MaxBy(found => found.Amps);
        var (first, last) = (history.Quarters[0].Start, history.Quarters[^1].Start + HistoryQuarter.Length);
        return new(
            history.Dock, first, last, (last - first).TotalDays, history.Whole.Count / ((last - first) / HistoryQuarter.Length),
            maximum.SourceVoltAmperes, maximumAt, amps, leg, ampsAt, DemandTable.Of(site.Supply, history.Dock, isSubmetered),
            [.. SurveyLimit.Of(site, history.Dock, Factor * amps, Factor * maximum.SourceVoltAmperes).OrderByDescending(limit => limit.UsedShare)],
            [.. Gaps(history, (last - first).TotalDays, history.Whole.Count / ((last - first) / HistoryQuarter.Length))]);
    }

    static IEnumerable<string> Gaps(DockHistory history, double days, double covered)
    {
        if (days < LeastDays)
            yield return Invariant($"The record has {days:0.#} days; NEC 220.87 asks for 30 in a row, or for a year's maximum.");
        if (covered < 0.999)
            yield return Invariant($"{(1 - covered) * 100:0.#} % of its quarter-hours do not know the whole dock; a higher demand may lie in them.");
        var celsius = history.Quarters.Where(quarter => !double.IsNaN(quarter.Celsius)).Select(quarter => quarter.Celsius).ToList();
        yield return celsius.Count == 0 ? "No weather was recorded: nobody can say from it how a hotter day would be."
            : Invariant($"The hottest quarter-hour had {celsius.Max():0.#} °C outdoors; what a hotter day asks for was not measured.");
        var idle = history.Dock.Pedestals.Values.Sum(pedestal => pedestal.Outlets.Values.Count(outlet => !history.Quarters.Any(quarter =>
            quarter.Draws.Any(draw => draw.Pedestal == pedestal.Name && draw.Outlet.Name == outlet.Name && draw.Amps >= 1))));
        if (idle > 0)
            yield return $"{idle} outlets never drew an ampere: the dock was not full, or season and regattas lie outside the record.";
        yield return "If boaters were asked to shed in these days, or anything generates on this dock, the maximum is not the dock's own; "
            + "220.87 then does not apply.";
    }
}

/// <summary>Something that carries the whole dock.</summary>
/// <param name="What">As "feeder breaker".</param>
/// <param name="Carries">VA of a transformer, else A on a leg.</param>
/// <param name="UsedShare">By 125 % of the measured demand.</param>
public sealed record SurveyLimit(string What, double Carries, double UsedShare)
{
    /// <param name="amps">On the heaviest leg.</param>
    internal static IEnumerable<SurveyLimit> Of(SiteDefinition site, DockDefinition dock, double amps, double voltAmperes)
    {
        if (dock.Source.Transformer is { } transformer)
            yield return new("transformer", transformer.RatingVoltAmperes, voltAmperes / transformer.RatingVoltAmperes);
        if (dock.FeederBreakerAmps is { } breaker)
            yield return new("feeder breaker", breaker, amps / breaker);
        if (dock.Cables.Where(cable => cable.From == DockDefinition.SourcePoint).ToList() is [var only])
            yield return new($"cable to {only.To}", only.LegAmpacityAmps(site.Limits.RacewayCelsius), amps / only.LegAmpacityAmps(site.Limits.RacewayCelsius));
    }
}
