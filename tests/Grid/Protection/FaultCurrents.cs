using System.Numerics;
using Farberth.Grid.Network;
using Farberth.Grid.Protection;

namespace Farberth.Grid.Tests.Protection;

public class FaultCurrents
{
    /// <summary>
    /// Secondary full-load amps over the nameplate impedance, the first step of every point-to-point calculation:
    /// 75 kVA, 240 V, 2.5 %: 312.5 A / 0.025 = 12 500 A between the legs.
    /// </summary>
    [Fact]
    public void Between_the_legs_at_a_transformers_terminals_the_nameplate_decides()
    {
        var level = At(SupplySystem.SplitPhase120, 120, SourceImpedance.Transformer(SupplySystem.SplitPhase120, 75e3, 0.025, 1.5));
        Assert.Equal(12_500, level.LegToLegAmps, 0.5);
    }

    /// <summary>
    /// Common practice (from memory, the handbooks' rule for a centre-tapped winding): about one and a half times the
    /// leg-to-leg current flows from leg to neutral at the terminals.
    /// </summary>
    [Theory]
    [InlineData(1.0)]
    [InlineData(1.5)]
    [InlineData(5.0)]
    public void From_leg_to_neutral_about_half_as_much_again_flows(double reactanceToResistance)
    {
        var transformer = SourceImpedance.Transformer(SupplySystem.SplitPhase120, 75e3, 0.025, reactanceToResistance);
        var level = At(SupplySystem.SplitPhase120, 120, transformer);
        Assert.InRange(level.LegToNeutralAmps / level.LegToLegAmps, 1.33, 1.67);
        Assert.Equal(level.LegToNeutralAmps, level.MaximumAmps);
    }

    /// <summary>Three-phase: rated amps over the nameplate impedance; between two legs √3/2 of it.</summary>
    [Fact]
    public void A_three_phase_bolted_fault_is_the_rated_amps_over_the_impedance()
    {
        var level = At(SupplySystem.Wye208, 120, SourceImpedance.Transformer(SupplySystem.Wye208, 112.5e3, 0.03, 2));
        var ratedAmps = 112.5e3 / 3 / 120;
        Assert.Equal(ratedAmps / 0.03, level.ThreePhaseAmps, 0.01);
        Assert.Equal(level.ThreePhaseAmps * Math.Sqrt(3) / 2, level.LegToLegAmps, 0.01);
        Assert.Equal(level.ThreePhaseAmps, level.LegToNeutralAmps, 0.01); // no cable yet: the neutral is at the terminals
    }

    [Fact]
    public void Each_length_of_cable_adds_its_leg_and_its_neutral_to_the_loop()
    {
        var (leg, neutral) = (new Complex(0.05, 0.01), new Complex(0.08, 0.02));
        var service = SourceImpedance.Service(SupplySystem.SinglePhase230, 5000, 0);
        var feeder = new Feeder(SupplySystem.SinglePhase230, "source", new PerLeg(230, 0, 0),
        [
            new Branch("source", "service", service),
            new Branch("service", "A", ImpedanceMatrix.Separate(SupplySystem.SinglePhase230, leg, neutral)),
            new Branch("A", "B", ImpedanceMatrix.Separate(SupplySystem.SinglePhase230, leg, neutral)),
        ]);
        var levels = FaultCurrent.Along(feeder);
        Assert.Equal(["service", "A", "B"], levels.Select(level => level.Bus));
        Assert.Equal(5000, levels[0].MaximumAmps, 1e-6);
        var expected = 0.046 + 2 * (leg + neutral);
        Assert.Equal(0, (levels[2].LoopOhms - expected).Magnitude, 1e-12);
        Assert.Equal(230 / expected.Magnitude, levels[2].LeastLegToNeutralAmps, 1e-9);
        Assert.Equal(0, levels[2].LegToLegAmps);
    }

    static FaultLevel At(SupplySystem supply, double volts, ImpedanceMatrix source) => FaultCurrent.At(
        new Feeder(supply, "source", new PerLeg(volts, volts, volts), [new Branch("source", "terminals", source)]), "terminals");
}
