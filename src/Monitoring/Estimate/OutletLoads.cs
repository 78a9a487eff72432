using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>The measured amps of a dock's outlets as loads.</summary>
static class OutletLoads
{
    public static LoadSet Of(Feeder feeder, DockImage image, SiteLimits limits)
    {
        var loads = new LoadSet(feeder);
        foreach (var (name, pedestal) in image.Pedestals)
            foreach (var outlet in pedestal.Outlets.Values)
                Add(loads, name, pedestal, outlet, limits);
        return loads;
    }

    static void Add(LoadSet loads, string bus, PedestalImage pedestal, OutletImage outlet, SiteLimits limits)
    {
        if (outlet.Latest is not { } reading || reading.Closed == false)
            return;
        var supply = loads.Feeder.Supply;
        var nominalVolts = supply.NominalVolts;
        var legs = outlet.Definition.Legs;
        if (OutletPower.IsBetweenLegs(outlet.Definition))
        {
            var between = nominalVolts * (supply.Direction(legs[0]) - supply.Direction(legs[1])).Magnitude;
            loads.Add(bus, legs[0], legs[1], ZipLoad.ConstantCurrent(
                OutletPower.AmpsBetweenLegs(outlet.Definition, reading), limits.PowerFactor, between));
            return;
        }
        foreach (var leg in legs.Where(reading.Amps.Has))
            loads.Add(bus, leg, ZipLoad.ConstantCurrent(
                reading.Amps[leg], OutletPower.Factor(pedestal.Latest!.Volts, reading, leg, limits), nominalVolts));
    }
}
