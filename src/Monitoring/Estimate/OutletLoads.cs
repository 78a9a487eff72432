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
        if (outlet.Definition is { HasNeutral: false, Legs.Count: 2 })
        {
            var between = nominalVolts * (supply.Direction(legs[0]) - supply.Direction(legs[1])).Magnitude;
            var amps = legs.Where(reading.Amps.Has).Select(leg => reading.Amps[leg]).DefaultIfEmpty(0).Max();
            loads.Add(bus, legs[0], legs[1], ZipLoad.ConstantCurrent(amps, limits.PowerFactor, between));
            return;
        }
        foreach (var leg in legs.Where(reading.Amps.Has))
            loads.Add(bus, leg, ZipLoad.ConstantCurrent(
                reading.Amps[leg], PowerFactor(pedestal.Latest!.Volts[leg], reading, leg, limits), nominalVolts));
    }

    /// <summary>Watts over volt-amperes where all three are measured, else the site's assumption.</summary>
    static double PowerFactor(double volts, Telemetry.OutletReading reading, Leg leg, SiteLimits limits)
    {
        var powerFactor = reading.Watts[leg] / (volts * reading.Amps[leg]);
        return double.IsFinite(powerFactor) ? Math.Clamp(powerFactor, 0.3, 1) : limits.PowerFactor;
    }
}
