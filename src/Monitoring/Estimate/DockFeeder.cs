using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>The electrical network of a dock as its site file describes it.</summary>
public static class DockFeeder
{
    /// <summary>The ideal source behind the transformer; no name of a site file can be the same.</summary>
    public const string OpenCircuit = "(open circuit)";

    /// <param name="openCircuitVolts">Leg to neutral behind the transformer.</param>
    /// <param name="celsius">Temperature of a cable's leg conductors and of its neutral.</param>
    public static Feeder Build(
        SiteDefinition site, DockDefinition dock, PerLeg openCircuitVolts,
        Func<CableDefinition, (double Legs, double Neutral)> celsius)
    {
        var cables = dock.Cables.Select(cable => new Branch(cable.From, cable.To, CableImpedance.Of(
            site.Supply, cable.Conductor, cable.Neutral, cable.Raceway, cable.LengthMetres, cable.Sets,
            celsius(cable).Legs, celsius(cable).Neutral)));
        var source = new Branch(OpenCircuit, DockDefinition.SourcePoint, SourceOf(site.Supply, dock.Source));
        return new Feeder(site.Supply, OpenCircuit, openCircuitVolts, [source, .. cables]);
    }

    /// <summary>The same volts on every leg of the supply.</summary>
    public static PerLeg Equal(SupplySystem supply, double volts) => Each(supply, _ => volts);

    /// <summary>A number for every leg of the supply.</summary>
    public static PerLeg Each(SupplySystem supply, Func<Leg, double> value) =>
        supply.Legs.Aggregate(PerLeg.None, (legs, leg) => legs.With(leg, value(leg)));

    static ImpedanceMatrix SourceOf(SupplySystem supply, SourceDefinition source) => source switch
    {
        { Transformer: { } transformer } => SourceImpedance.Transformer(
            supply, transformer.RatingVoltAmperes, transformer.ImpedanceShare, transformer.ReactanceToResistance),
        { FaultAmps: { } amps } => SourceImpedance.Service(supply, amps, source.ReactanceToResistance),
        _ => ImpedanceMatrix.Zero,
    };
}
