using System.Numerics;
using System.Text.Json;
using Farberth.Grid.Network;

namespace Farberth.HotAfternoon;

/// <summary>The channels of one outlet: amps, watts and contact temperature, and whether its breaker is closed.</summary>
/// <remarks>
/// Watts of a leg: Re(V·conj(I)) with V leg to neutral at the pedestal's bus; its gain is its own, its noise that of
/// the amps. Resolution 0.1 A, 1 W, 0.1 °C.
/// </remarks>
sealed class MeteredOutlet(ShorePowerOutlet outlet, MeterPlan plan, NamedRandom random)
{
    const double StartingAmps = 0.02;

    readonly bool isMeasuringCelsius = plan.WithoutCelsius.All(without => without.Pedestal != outlet.Name.Pedestal);

    readonly Dictionary<Leg, MeterChannel> amps = outlet.Definition.Legs.ToDictionary(
        leg => leg, _ => new MeterChannel(PedestalMeter.Gain(plan, random), plan.AmpsNoise, StartingAmps, random));

    readonly Dictionary<Leg, double> wattsGain =
        outlet.Definition.Legs.ToDictionary(leg => leg, _ => PedestalMeter.Gain(plan, random));

    public void Write(Utf8JsonWriter writer, Solution now, int pedestalNode)
    {
        writer.WriteStartObject(outlet.Definition.Name);
        writer.WriteStartObject("amps");
        foreach (var leg in outlet.Definition.Legs)
            writer.WriteRounded(leg.ToString(), amps[leg].Read(outlet.Amps(now, leg)), 1);
        writer.WriteEndObject();
        writer.WriteStartObject("watts");
        foreach (var leg in outlet.Definition.Legs)
            writer.WriteRounded(leg.ToString(), Watts(now, pedestalNode, leg), 0);
        writer.WriteEndObject();
        if (isMeasuringCelsius)
            writer.WriteRounded("celsius", outlet.ContactCelsius, 1);
        if (outlet.LeakageAmps is { } leakage)
            writer.WriteRounded("leakage-ma", 1000 * leakage, 1);
        writer.WriteBoolean("closed", outlet.Closed);
        writer.WriteEndObject();
    }

    double Watts(Solution now, int pedestalNode, Leg leg)
    {
        var v = now.ToNeutral(pedestalNode, (int)leg);
        var n = random.Normal();
        if (outlet.Amps(now, leg) < StartingAmps)
            return 0;
        var watts = (v * Complex.Conjugate(now.AmpsInto(outlet.Node, (int)leg))).Real;
        return wattsGain[leg] * (watts + plan.AmpsNoise * v.Magnitude * n);
    }
}
