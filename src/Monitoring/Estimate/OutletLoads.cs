using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Estimate;

/// <summary>
/// The amps of a dock's outlets as loads: those of a fresh reading as measured, whatever the volts; those of an old one as
/// they answer to the volts since, by the outlet's learned response; nothing where an outlet is open.
/// </summary>
static class OutletLoads
{
    public static LoadSet Of(Feeder feeder, DockImage image, SiteLimits limits, DockLearned learned)
    {
        var loads = new LoadSet(feeder);
        PerLeg? usual = null; // seldom asked for
        foreach (var (name, pedestal) in image.Pedestals)
        {
            var bus = feeder.PositionOf(name);
            foreach (var outlet in pedestal.Outlets.Values)
                if (outlet.Latest == null && outlet.BoatPresent != false)
                    AddUsual(loads, bus, outlet.Definition, usual ??= Usual(feeder.Supply, image), limits);
                else if (outlet.Latest is { Closed: not false } reading)
                    Add(loads, bus, pedestal, outlet, reading, limits,
                        pedestal.IsFresh ? null : learned.ResponseOf(new(name, outlet.Definition.Name), limits).Exponent);
        }
        return loads;
    }

    static PerLeg Usual(SupplySystem supply, DockImage image) => DockFeeder.Each(supply, leg => AmpsPerRatedAmp(image, leg));

    /// <summary>An outlet that nobody has heard is taken to draw per rated amp what the others draw, unless its slip is empty.</summary>
    static void AddUsual(LoadSet loads, int bus, OutletDefinition outlet, PerLeg usual, SiteLimits limits)
    {
        var supply = loads.Feeder.Supply;
        foreach (var leg in outlet.Legs.Where(leg => usual[leg] > 0))
            loads.Add(bus, leg, ZipLoad.Responding(
                usual[leg] * outlet.RatingAmps, limits.PowerFactor, supply.NominalVolts, limits.LoadResponse, supply.NominalVolts));
    }

    static double AmpsPerRatedAmp(DockImage image, Leg leg)
    {
        var (sum, rated) = (0.0, 0.0);
        foreach (var pedestal in image.Pedestals.Values)
            if (pedestal.IsFresh)
                foreach (var outlet in pedestal.Outlets.Values)
                    if (outlet.Latest?.Amps.Has(leg) == true)
                        (sum, rated) = (sum + outlet.Latest.Amps[leg], rated + outlet.Definition.RatingAmps);
        return rated > 0 ? sum / rated : 0;
    }

    static void Add(LoadSet loads, int bus, PedestalImage pedestal, OutletImage outlet, OutletReading reading, SiteLimits limits, double? response)
    {
        var (supply, legs) = (loads.Feeder.Supply, outlet.Definition.Legs);
        var volts = pedestal.Latest!.Volts;
        if (OutletPower.IsBetweenLegs(outlet.Definition))
        {
            var turns = (supply.Direction(legs[0]) - supply.Direction(legs[1])).Magnitude;
            loads.Add(bus, legs[0], legs[1], Load(
                OutletPower.AmpsBetweenLegs(outlet.Definition, reading), limits.PowerFactor,
                turns * (volts[legs[0]] + volts[legs[1]]) / 2, response, turns * supply.NominalVolts));
            return;
        }
        foreach (var leg in legs)
            if (reading.Amps.Has(leg))
                loads.Add(bus, leg, Load(
                    reading.Amps[leg], OutletPower.Factor(volts, reading, leg, limits), volts[leg], response, supply.NominalVolts));
    }

    /// <param name="volts">At which the amps were read; NaN or next to nothing where that is not known.</param>
    /// <param name="response">Null: the amps stand whatever the volts.</param>
    static ZipLoad Load(double amps, double powerFactor, double volts, double? response, double nominalVolts) =>
        response is { } n && volts > nominalVolts / 2
            ? ZipLoad.Responding(amps, powerFactor, volts, n, nominalVolts)
            : ZipLoad.ConstantCurrent(amps, powerFactor, nominalVolts);
}
