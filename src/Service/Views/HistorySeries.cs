using Farberth.Adapters.Stores.Embedded;

namespace Farberth.Service.Views;

/// <summary>Volts and amps of a pedestal, or of one of its outlets, over a while: few enough points for a chart, and no peak is lost.</summary>
/// <param name="Outlet">Null: all outlets together.</param>
/// <param name="Of">What the points are made of: reading, minute or quarter (of an hour).</param>
/// <param name="StepSeconds">Each point stands for so long, from its time on; 0: each is one reading.</param>
/// <param name="Points">The oldest first. A while in which nothing was heard has none.</param>
/// <param name="IsCut">There are more readings than are looked at: the newest are left out.</param>
/// <param name="AmpsAreBounds">Least and most amps are sums over outlets that need not have been there together: it was never less, nor more.</param>
public sealed record HistorySeries(
    string Pedestal, string? Outlet, DateTimeOffset From, DateTimeOffset To, string Of, double StepSeconds, IReadOnlyList<SeriesPoint> Points,
    bool IsCut, bool AmpsAreBounds);

/// <param name="Volts">By leg, to neutral, RMS.</param>
/// <param name="Amps">By leg, RMS. Over a quarter of an hour the mean is the demand.</param>
public sealed record SeriesPoint(DateTimeOffset At, IReadOnlyDictionary<string, Spread> Volts, IReadOnlyDictionary<string, Spread> Amps);
