using System.Numerics;
using Farberth.Grid.Network;
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
        if (outlet is { HasNeutral: false, Legs.Count: 2 })
        {
            var along = supply.Direction(legs[0]) - supply.Direction(legs[1]);
            var between = along / along.Magnitude * Lagging(Larger(reading.Amps[legs[0]], reading.Amps[legs[1]]), site.Limits.PowerFactor);
            amps[(int)legs[0]] += between;
            amps[(int)legs[1]] -= between;
            return;
        }
        foreach (var leg in legs)
        {
            var powerFactor = reading.Watts[leg] / (volts[leg] * reading.Amps[leg]);
            if (reading.Amps.Has(leg))
                amps[(int)leg] += supply.Direction(leg) * Lagging(reading.Amps[leg],
                    double.IsFinite(powerFactor) ? Math.Clamp(powerFactor, 0.3, 1) : site.Limits.PowerFactor);
        }
    }

    static double Larger(double one, double other) =>
        double.IsNaN(one) ? double.IsNaN(other) ? 0 : other : double.IsNaN(other) ? one : Math.Max(one, other);

    static Complex Lagging(double amps, double powerFactor) =>
        new(amps * powerFactor, -amps * Math.Sqrt(1 - powerFactor * powerFactor));
}
