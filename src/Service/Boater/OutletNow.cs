using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Site;

namespace Farberth.Service.Boater;

/// <summary>How volts or amps stand against their limits.</summary>
public enum Level
{
    Good,
    Low,
    TooLow,
    High,
    TooHigh,
    None,
}

/// <summary>One outlet of the slip. Volts are leg to neutral, RMS; where the meter is silent the last that it said.</summary>
/// <param name="SilentFor">Since its meter was last heard.</param>
/// <param name="Risk">Null: it has never been heard.</param>
/// <param name="IsOpen">Its breaker or contactor is open.</param>
public sealed record OutletNow(
    OutletKey Key, OutletDefinition Outlet, bool IsFresh, TimeSpan SilentFor, OutletRisk? Risk, bool IsOpen, IReadOnlyList<LegVolts> Volts)
{
    public static OutletNow Of(DockStep step, OutletKey key)
    {
        var picture = step.Picture;
        var pedestal = picture.Image.Pedestals[key.Pedestal];
        var outlet = pedestal.Outlets[key.Outlet];
        return new(
            key, outlet.Definition, pedestal.IsFresh && outlet.Latest != null, pedestal.SilentFor,
            picture.Outlets.FirstOrDefault(risk => risk.Pedestal == key.Pedestal && risk.Outlet.Name == key.Outlet),
            outlet.Latest?.Closed == false,
            [
                .. from leg in Legs(outlet.Definition)
                   where pedestal.Latest?.Volts.Has(leg) == true
                   let volts = pedestal.Latest!.Volts[leg]
                   select new LegVolts(leg, volts, LevelOf(volts, picture.Site)),
            ]);
    }

    /// <summary>Of the amps: high is above what it may carry for hours, too high above what its breaker is rated for.</summary>
    public Level AmpsLevel => Risk is not { } risk ? Level.None
        : risk.Amps > Outlet.RatingAmps ? Level.TooHigh
        : risk.HeadroomAmps < 0 ? Level.High : Level.Good;

    static IEnumerable<Leg> Legs(OutletDefinition outlet)
    {
        for (var at = 0; at < outlet.Legs.Count; at++)
            yield return outlet.Legs[at];
    }

    static Level LevelOf(double volts, SiteDefinition site)
    {
        var bands = site.Limits.Volts;
        return volts < site.Supply.NominalVolts / 2 ? Level.None
            : volts < bands.LowB ? Level.TooLow : volts < bands.LowA ? Level.Low
            : volts > bands.HighB ? Level.TooHigh : volts > bands.HighA ? Level.High : Level.Good;
    }
}

public readonly record struct LegVolts(Leg Leg, double Volts, Level Level);
