using System.Numerics;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon;

/// <summary>One outlet with its breaker, its contacts and the cord that hangs on it.</summary>
/// <remarks>
/// Cord: 15 m of flexible copper at 45 °C, each conductor R = 15 m·r₂₀·(1 + 0.00393·25 K), reactance left out; r₂₀ from
/// IEC 60228 class 5: 6 mm² 3.30, 16 mm² 1.21, 35 mm² 0.554 ohm/km for cords up to 32, 63 and above 63 A (common
/// practice: 10 AWG and 6 AWG cords have about these areas).
/// </remarks>
public sealed class ShorePowerOutlet(
    OutletName name, OutletDefinition definition, int node, OutletBreaker breaker, DateTime? resetAt, ContactPlan plan, double airCelsius)
{
    readonly ContactHeat contacts = new(definition.RatingAmps, airCelsius, plan.Wear);
    bool wasReset;

    public OutletName Name => name;

    public OutletDefinition Definition => definition;

    /// <summary>The boat's end of the cord.</summary>
    public int Node => node;

    public bool Closed => breaker.Closed;

    public double ContactCelsius => contacts.Celsius;

    /// <summary>Its plastic softens now.</summary>
    public bool IsTooHot => contacts.Celsius > plan.LimitCelsius;

    /// <summary>What leaks out of its conductors, A; null where its pedestal does not measure it.</summary>
    public double? LeakageAmps { get; set; }

    public Complex CordOhms { get; } = 15 * (1 + 0.00393 * 25) * definition.RatingAmps switch
    {
        <= 32 => 0.00330,
        <= 63 => 0.00121,
        _ => 0.000554,
    };

    public double Amps(Solution solution, Leg leg) => solution.AmpsInto(node, (int)leg).Magnitude;

    public void Step(double seconds, DateTime local, Sky sky, Solution solution)
    {
        var amps = definition.Legs.Max(leg => Amps(solution, leg));
        breaker.Step(seconds, amps);
        contacts.Step(seconds, sky.Celsius, sky.Sun, amps);
        if (wasReset || resetAt is null || local < resetAt)
            return;
        breaker.Reset();
        wasReset = true;
    }
}
