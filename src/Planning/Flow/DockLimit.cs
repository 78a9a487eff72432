using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Planning.Flow;

public enum LimitKind
{
    /// <summary>Leg to neutral at a pedestal: not below the lower end of band A.</summary>
    Volts,

    /// <summary>Amps of a leg of a cable: not above its ampacity.</summary>
    Cable,

    /// <summary>Amps of a cable's neutral: likewise.</summary>
    Neutral,

    /// <summary>Amps of a leg at the source: not above what the feeder breaker carries for hours.</summary>
    FeederBreaker,

    /// <summary>VA at the source: not above the transformer's rating.</summary>
    Transformer,
}

/// <summary>One thing that a dock must keep.</summary>
/// <param name="Place">A pedestal, the outer end of a cable, or the source.</param>
/// <param name="Leg">The neutral for <see cref="LimitKind.Neutral"/>; without meaning for a transformer.</param>
/// <param name="Bound">V, A or VA.</param>
public sealed record DockLimit(LimitKind Kind, string Place, Leg Leg, double Bound)
{
    /// <summary>How far a value is on the good side, as a share of the bound; below 0: the limit is passed.</summary>
    public double Room(double value) => Kind == LimitKind.Volts ? value / Bound - 1 : 1 - value / Bound;

    /// <summary>Every limit of a dock, in an order that is always the same.</summary>
    /// <param name="racewayCelsius">Air around the cables.</param>
    public static IReadOnlyList<DockLimit> Of(SiteDefinition site, DockDefinition dock, double racewayCelsius) =>
    [
        .. from pedestal in dock.Pedestals.Keys
           from leg in site.Supply.Legs
           select new DockLimit(LimitKind.Volts, pedestal, leg, site.Limits.Volts.LowA),
        .. from cable in dock.Cables
           from leg in site.Supply.Legs
           select new DockLimit(LimitKind.Cable, cable.To, leg, cable.LegAmpacityAmps(racewayCelsius)),
        .. from cable in dock.Cables
           select new DockLimit(LimitKind.Neutral, cable.To, Leg.N, cable.NeutralAmpacityAmps(racewayCelsius)),
        .. from leg in site.Supply.Legs
           where dock.FeederBreakerAmps is not null
           select new DockLimit(
               LimitKind.FeederBreaker, DockDefinition.SourcePoint, leg, site.Limits.ContinuousAmps(dock.FeederBreakerAmps!.Value)),
        .. dock.Source.Transformer is { } transformer
            ? [new DockLimit(LimitKind.Transformer, DockDefinition.SourcePoint, Leg.L1, transformer.RatingVoltAmperes)]
            : Array.Empty<DockLimit>(),
    ];
}
