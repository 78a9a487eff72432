using Farberth.Grid.Protection;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Risk;

/// <summary>How warm the dock's transformer is inside, and how fast it ages.</summary>
/// <param name="HotSpotCelsius">Of the winding.</param>
/// <param name="TopLiquidCelsius">Null in a dry one.</param>
/// <param name="SettlesAtCelsius">The hottest spot after hours at this load and air.</param>
/// <param name="Ageing">1: its normal life.</param>
/// <param name="AgeingOfDay">Mean of the last day or so, fading.</param>
public sealed record TransformerRisk(
    double HotSpotCelsius, double? TopLiquidCelsius, double SettlesAtCelsius, double Ageing, double AgeingOfDay);

/// <summary>Follows a dock's transformer. It stands in the shade of the outdoor air, by assumption.</summary>
public sealed class TransformerWatch(SiteDefinition site, DockDefinition dock)
{
    static readonly TimeSpan Day = TimeSpan.FromDays(1);

    /// <summary>What it carries in the first minute it is taken to have carried for hours; a first reading alone may be a motor's start.</summary>
    static readonly TimeSpan First = TimeSpan.FromMinutes(1);

    TransformerHeat heat;
    double ageingOfDay;
    DateTimeOffset? last;
    DateTimeOffset? settledUntil;

    /// <returns>Null without a transformer.</returns>
    public TransformerRisk? Tick(DockImage image, DockEstimate estimate)
    {
        if (dock.Source.Transformer is not { } transformer || estimate.TransformerLoad is not { } load)
            return null;
        var (rise, air) = (transformer.Thermal.Rise, image.Weather?.Celsius ?? site.Limits.RacewayCelsius);
        var elapsed = image.Now > last ? image.Now - last.Value : TimeSpan.Zero; // a clock may have been set back
        settledUntil ??= image.Now + First;
        heat = image.Now <= settledUntil ? TransformerHeat.Settled(rise, load) : heat.Follow(rise, load, elapsed);
        var hotSpot = air + heat.HotSpotKelvin;
        var ageing = transformer.Thermal.IsDry ? InsulationAgeing.OfDry(hotSpot) : InsulationAgeing.OfLiquid(hotSpot);
        ageingOfDay += (ageing - ageingOfDay) * (last == null ? 1 : 1 - Math.Exp(-elapsed / Day));
        last = image.Now;
        return new(
            hotSpot,
            transformer.Thermal.IsDry ? null : air + heat.TopLiquidKelvin,
            air + TransformerHeat.Settled(rise, load).HotSpotKelvin,
            ageing,
            ageingOfDay);
    }

    internal TransformerMemory Memory() => new(heat, ageingOfDay, last, settledUntil);

    internal void Resume(TransformerMemory memory) =>
        (heat, ageingOfDay, last, settledUntil) = (memory.Heat, memory.AgeingOfDay, memory.Last, memory.SettledUntil);
}

sealed record TransformerMemory(TransformerHeat Heat, double AgeingOfDay, DateTimeOffset? Last, DateTimeOffset? SettledUntil);
