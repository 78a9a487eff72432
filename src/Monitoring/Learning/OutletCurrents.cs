using System.Numerics;
using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Learning;

/// <summary>
/// The measured amps of a pedestal as phasors, each leg's against that leg's no-load phasor: I_k = u_k·|I|·(cos φ − j·sin φ),
/// cos φ by the watts where they are sent, else the site's. The angle of the volts themselves, a degree or two, is left out.
/// </summary>
static class OutletCurrents
{
    /// <param name="amps">Overwritten: by leg, A.</param>
    public static void Of(SiteDefinition site, PedestalImage pedestal, Span<Complex> amps)
    {
        amps.Clear();
        foreach (var outlet in pedestal.Outlets.Values)
            if (outlet.Latest is { } reading && reading.Closed != false)
                Add(site, pedestal.Latest!.Volts, outlet.Definition, reading, amps);
    }

    static void Add(SiteDefinition site, PerLeg volts, OutletDefinition outlet, OutletReading reading, Span<Complex> amps)
    {
        var (supply, legs) = (site.Supply, outlet.Legs);
        if (OutletPower.IsBetweenLegs(outlet))
        {
            var along = supply.Direction(legs[0]) - supply.Direction(legs[1]);
            var between = along / along.Magnitude * Lagging(OutletPower.AmpsBetweenLegs(outlet, reading), site.Limits.PowerFactor);
            amps[(int)legs[0]] += between;
            amps[(int)legs[1]] -= between;
            return;
        }
        foreach (var leg in legs)
            if (reading.Amps.Has(leg))
                amps[(int)leg] += supply.Direction(leg)
                    * Lagging(reading.Amps[leg], OutletPower.Factor(volts, reading, leg, site.Limits));
    }

    static Complex Lagging(double amps, double powerFactor) =>
        new(amps * powerFactor, -amps * Math.Sqrt(1 - powerFactor * powerFactor));
}
