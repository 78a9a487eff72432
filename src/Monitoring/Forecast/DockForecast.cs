using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;

namespace Farberth.Monitoring.Forecast;

/// <summary>What a dock is expected to do in the next 24 hours. Every number is the mean of a quarter-hour.</summary>
/// <param name="Time">When it was made; minutes ahead count from here.</param>
/// <param name="LearnedShare">How much of its spread rests on its own past errors; 0: all of it is assumed, as on the first day.</param>
/// <param name="Hours">At 15, 30 and 45 minutes and at each full hour up to 24: the quarter-hour that then ends.</param>
/// <param name="Outlets">Those that have been heard.</param>
/// <param name="Sag">The chance that the lowest volts of the dock leave the lower bands by day.</param>
public sealed record DockForecast(
    DateTimeOffset Time, double LearnedShare, IReadOnlyList<DockAhead> Hours,
    IReadOnlyDictionary<OutletKey, OutletForecast> Outlets, SagChance Sag);

/// <summary>One quarter-hour to come.</summary>
/// <param name="Until">When it ends.</param>
/// <param name="Amps">Out of the source, by leg, A.</param>
/// <param name="KilovoltAmperes">At the source, all legs.</param>
/// <param name="Pedestal">Where the volts will most likely be lowest: the far end.</param>
/// <param name="Leg">On which leg.</param>
/// <param name="Volts">The lowest leg-to-neutral volts of any pedestal.</param>
public sealed record DockAhead(
    DateTimeOffset Until, int MinutesAhead, IReadOnlyDictionary<Leg, Quantiles> Amps, Quantiles KilovoltAmperes,
    string Pedestal, Leg Leg, Quantiles Volts);

/// <summary>Whether and when a dock will sag.</summary>
/// <param name="BelowA">Chance, 0 to 1, that the lowest volts leave band A at a full hour of the day within 24 hours.</param>
/// <param name="BelowB">Likewise band B.</param>
/// <param name="Worst">The hour at which that is most likely; null while it is night for the next 24 hours.</param>
public sealed record SagChance(double BelowA, double BelowB, DockAhead? Worst);
