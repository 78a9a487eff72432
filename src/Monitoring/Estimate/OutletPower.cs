using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Estimate;

/// <summary>What an outlet's amps mean as phasors, wherever they are used.</summary>
static class OutletPower
{
    /// <summary>Watts over volt-amperes where all three are measured, within what loads can have; else the site's assumption.</summary>
    public static double Factor(PerLeg volts, OutletReading reading, Leg leg, SiteLimits limits)
    {
        var factor = reading.Watts[leg] / (volts[leg] * reading.Amps[leg]);
        return double.IsFinite(factor) ? Math.Clamp(factor, 0.3, 1) : limits.PowerFactor;
    }

    /// <summary>An outlet between two legs has one current, whichever legs say so.</summary>
    public static bool IsBetweenLegs(OutletDefinition outlet) => outlet is { HasNeutral: false, Legs.Count: 2 };

    /// <summary>That current, A; 0 where none is measured.</summary>
    public static double AmpsBetweenLegs(OutletDefinition outlet, OutletReading reading)
    {
        var most = double.NaN; // no number is below all
        foreach (var leg in outlet.Legs)
            most = double.MaxNumber(most, reading.Amps[leg]);
        return double.IsNaN(most) ? 0 : most;
    }
}
