using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Forecast;

/// <summary>Where the volts of a dock would go with the loads that are expected.</summary>
/// <param name="Pedestal">The one with the lowest volts on any leg.</param>
/// <param name="Volts">There, leg to neutral.</param>
sealed record FlowAhead(LoadFlowState State, string Pedestal, Leg Leg, double Volts)
{
    /// <param name="feeder">With cables as warm as they are now.</param>
    /// <param name="openCircuitVolts">Behind the transformer, all legs.</param>
    /// <param name="amps">Of each outlet's leg at nominal volts.</param>
    public static FlowAhead Of(
        SiteDefinition site, DockDefinition dock, Feeder feeder, double openCircuitVolts,
        IEnumerable<(OutletLeg Leg, double Amps, double Response)> amps)
    {
        var loads = new LoadSet(feeder.At(DockFeeder.Equal(site.Supply, openCircuitVolts)));
        foreach (var (leg, nominalAmps, response) in amps)
            leg.AddTo(loads, nominalAmps, response);
        var state = Sweep.Solve(loads).State;
        var (pedestal, lowest, volts) = (
            from name in dock.Pedestals.Keys
            from leg in site.Supply.Legs
            select (name, leg, volts: state.VoltsAt(name, leg).Magnitude)).MinBy(place => place.volts);
        return new(state, pedestal, lowest, volts);
    }
}
