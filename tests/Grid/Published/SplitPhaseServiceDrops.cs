using System.Numerics;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using static Farberth.Grid.Tests.Published.SharedFeeders;

namespace Farberth.Grid.Tests.Published;

/// <summary>
/// The 1,177 split-phase service drops of the IEEE 8500-node feeder with their unbalanced 120 V loads. Inputs: IEEE PES
/// test feeder; the expected volts were computed with a general distribution engine, they are not printed anywhere.
/// </summary>
public class SplitPhaseServiceDrops
{
    const string Folder = "ieee8500-service-drops/";

    [Fact]
    public void Every_drop_is_within_a_tenth_of_a_millivolt()
    {
        var codes = Rows($"{Folder}triplex_linecodes.csv").Skip(1).ToDictionary(row => row[0], Triplex);
        var drops = 0;
        foreach (var row in Rows($"{Folder}service_drops.csv").Skip(1))
        {
            var state = Solve(row, codes[row[6]]);
            foreach (var (bus, first) in new[] { ("x", 12), ("load", 16) })
                foreach (var leg in SupplySystem.SplitPhase120.Legs)
                {
                    var at = first + 2 * (int)leg;
                    var expected = new Complex(Number(row[at]), Number(row[at + 1]));
                    Assert.True((expected - state.VoltsAt(bus, leg)).Magnitude < 1e-4, $"{row[0]} {bus} {leg}");
                }
            drops++;
        }
        Assert.Equal(1177, drops);
    }

    /// <summary>Windings of 0.6, 1.2, 1.2 % resistance; X12 = X13 = 2.04 %, X23 = 1.36 % make the star 1.36, 0.68, 0.68 %.</summary>
    static LoadFlowState Solve(string[] row, ImpedanceMatrix triplexPerKilofoot)
    {
        var (kva, feet) = (Number(row[1]), Number(row[7]));
        var baseOhms = 120 * 120 / (kva * 1000);
        var half = new Complex(0.012, 0.0068) * baseOhms;
        var openCircuit = new Complex(Number(row[4]), Number(row[5])) / 60;
        var feeder = new Feeder(SupplySystem.SplitPhase120, "source", [openCircuit, -openCircuit],
        [
            new Branch("source", "x", SourceImpedance.CentreTapped(new Complex(0.006, 0.0136) * baseOhms, half, half)),
            new Branch("x", "load", triplexPerKilofoot * (feet / 1000)),
        ]);
        var loads = new LoadSet(feeder)
            .Add("x", Leg.L1, ZipLoad.ConstantImpedance(new Complex(0.002, 0.005) * kva * 1000)) // magnetising branch
            .Add("load", Leg.L1, ZipLoad.ConstantPower(new(Number(row[8]), Number(row[9]))))
            .Add("load", Leg.L2, ZipLoad.ConstantPower(new(Number(row[10]), Number(row[11]))));
        return Sweep.Solve(loads).State;
    }

    static ImpedanceMatrix Triplex(string[] row) => ImpedanceMatrix.From((a, b) =>
        a > Leg.L2 || b > Leg.L2 ? 0 : new Complex(Number(row[1 + 2 * (int)a + (int)b]), Number(row[5 + 2 * (int)a + (int)b])));
}
