using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using System.Numerics;

namespace Farberth.Grid.Tests.Estimation;

/// <summary>
/// Worked examples of the literature. They are meshed; each has one loop, and what is measured in it can be put on two buses
/// and the cable between them: a bus tied to the reference by a metered branch is a bus with a voltmeter.
/// </summary>
public class WorkedEstimates
{
    const Leg L1 = Leg.L1;

    /// <summary>
    /// Linear least squares on a DC circuit, lecture notes on state estimation of a power systems course that follow Monticelli,
    /// State Estimation in Electric Power Systems, ch. 2 (the data is confirmed, the printed solution from memory): three resistors
    /// of 1 ohm, i12 = 1.0 A, i31 = −3.2 A, i23 = 0.8 A, e = 1.1 V, all equally sure; node 3 is the reference. So v1 reads 3.2 V,
    /// v2 reads 0.8 V, and the resistor between them, with e before it, carries v1 − v2 = e + i12 = 2.1 V ± √2 σ. By hand: the
    /// mismatch of 0.3 V is shared by variance, 1 : 1 : 2, so v1 = 3.125 V, v2 = 0.875 V and Σr² = 0.3²/4 = 0.0225.
    /// </summary>
    [Fact]
    public void A_direct_current_circuit_with_four_meters()
    {
        var found = TwoBuses(ohms: 1, first: (3.2, 1), second: (0.8, 1), between: (2.1, Math.Sqrt(2)));
        Assert.Equal(3.125, found.Volts("first", L1).Volts, 1e-6);
        Assert.Equal(0.875, found.Volts("second", L1).Volts, 1e-6);
        Assert.Equal(0.0225, found.SquaredResiduals, 1e-6);
    }

    /// <summary>
    /// The three-bus example of Wood and Wollenberg, Power Generation, Operation, and Control, ch. 12 (data and results from memory, the
    /// normal equations solved anew here): x12 = 0.2, x13 = 0.4, x23 = 0.25; M12 = 0.62, M13 = 0.06, M32 = 0.37, each ± 0.01;
    /// bus 3 is the reference. θ1 = 0.028571, θ2 = −0.094286, J = 2.14 with one degree of freedom, below the limit at 1 %, 6.635.
    /// Angles stand for volts here and x for ohms, each angle measured by the branch to bus 3, and one volt is added to all.
    /// </summary>
    [Fact]
    public void Three_buses_with_three_flow_meters()
    {
        var found = TwoBuses(ohms: 0.2, first: (1 + 0.4 * 0.06, 0.4 * 0.01), second: (1 - 0.25 * 0.37, 0.25 * 0.01), between: (0.62, 0.01));
        Assert.Equal(1 + 0.028571, found.Volts("first", L1).Volts, 1e-6);
        Assert.Equal(1 - 0.094286, found.Volts("second", L1).Volts, 1e-6);
        Assert.Equal(2.14, found.SquaredResiduals, 0.005);
        Assert.InRange(ChiSquare.ChanceAbove(found.SquaredResiduals, 1), 0.10, 0.20);
    }

    /// <summary>A source that nobody knows, a bus, a cable and a bus that draws.</summary>
    static FeederEstimate TwoBuses(double ohms, (double Volts, double Sd) first, (double Volts, double Sd) second, (double Amps, double Sd) between)
    {
        var supply = SupplySystem.SinglePhase230;
        var feeder = new Feeder(supply, "source", new PerLeg(first.Volts, double.NaN, double.NaN),
        [
            new("source", "first", ImpedanceMatrix.Zero),
            new("first", "second", ImpedanceMatrix.Separate(supply, new Complex(ohms, 0), Complex.Zero)),
        ]);
        var measured = new Measurements(feeder);
        measured.SetVolts("first", L1, first.Volts, first.Sd);
        measured.SetVolts("second", L1, second.Volts, second.Sd);
        measured.SetAmps("second", L1, between.Amps, between.Sd);
        var loads = new LoadSet(feeder).Add("second", L1, ZipLoad.ConstantCurrent(between.Amps, 1, supply.NominalVolts));
        return new StateEstimator(feeder, new(SourceVoltsSd: 1e3, CableShare: 0, LeastDropSd: 1e-4 * second.Sd)).Run(measured, Sweep.Solve(loads).State);
    }
}
