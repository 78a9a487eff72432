using Farberth.Grid.Network;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;

namespace Farberth.Planning.Survey;

/// <summary>One quarter-hour of a dock as it was measured.</summary>
/// <param name="Start">UTC.</param>
/// <param name="Draws">
/// Outlets that were heard for at least half of it, at nominal volts: I₀ = I·(V₀/V)^n; one for each leg, since an outlet's legs are measured
/// apart, but one alone for an outlet between two legs.
/// </param>
/// <param name="Volts">Of the pedestals that were heard, leg to neutral.</param>
/// <param name="Celsius">Outdoors; NaN where no weather was sent.</param>
/// <param name="HeardShare">Of the outlets' ratings: how much of the dock the quarter knows.</param>
public sealed record HistoryQuarter(
    DateTimeOffset Start, IReadOnlyList<Draw> Draws, IReadOnlyDictionary<string, PerLeg> Volts, double Celsius, double HeardShare)
{
    public static readonly TimeSpan Length = Quarters.Length;
}

/// <summary>What a dock's meters said, by the quarter-hour: the averaging time of NEC 220.87.</summary>
/// <param name="Quarters">In order; those of which nothing was heard are left out.</param>
public sealed record DockHistory(DockDefinition Dock, IReadOnlyList<HistoryQuarter> Quarters)
{
    /// <summary>A quarter that knows less of the dock than this is not counted as covered (assumed).</summary>
    public const double WholeShare = 0.95;

    public IReadOnlyList<HistoryQuarter> Whole { get; } = [.. Quarters.Where(quarter => quarter.HeardShare >= WholeShare)];

    /// <summary>The volts behind the transformer with which the load flow agrees best with what the pedestals measured, V.</summary>
    public double NoLoadVolts(DockCase @case, HistoryQuarter quarter)
    {
        if (quarter.Volts.Count == 0)
            return Dock.Source.NoLoadVolts;
        var flow = @case.Solve(quarter.Draws);
        var misses = from pedestal in quarter.Volts from leg in pedestal.Value.Legs
                     select pedestal.Value[leg] - flow.State.VoltsAt(pedestal.Key, leg).Magnitude;
        return Dock.Source.NoLoadVolts + misses.Average();
    }

    /// <summary>The load flow of a quarter behind the volts that it had.</summary>
    public DockFlow Flow(DockCase @case, HistoryQuarter quarter) => @case.Solve(quarter.Draws, NoLoadVolts(@case, quarter));

    /// <summary>A measured current as it would be at nominal volts.</summary>
    internal static double AtNominal(SiteDefinition site, double amps, double volts) => volts > site.Supply.NominalVolts / 2
        ? amps * Math.Pow(site.Supply.NominalVolts / volts, site.Limits.LoadResponse) : amps;
}
