using System.Numerics;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using static Farberth.Grid.Tests.Published.SharedFeeders;

namespace Farberth.Grid.Tests.Published;

/// <summary>Kersting's examples 11.1 and 11.2; see tests/data/kersting-split-120-240/README.md for the source and a misprint.</summary>
public class KerstingCentreTapped
{
    const double Degree = Math.PI / 180;

    static readonly Dictionary<string, string> Inputs = Cells("inputs.csv").Skip(1).ToDictionary(row => row[0], row => row[1]);

    [Theory]
    [InlineData("11.1_no_line", "transformer")]
    [InlineData("11.2_100ft_triplex", "load")]
    public void Agrees_in_full_digits_and_with_the_printed_ones(string example, string bus)
    {
        var state = Solve(withTriplex: bus == "load");
        var found = new Dictionary<string, Complex>
        {
            ["V1N"] = state.VoltsAt(bus, Leg.L1),
            ["V2N"] = -state.VoltsAt(bus, Leg.L2),
            ["V12"] = state.VoltsBetween(bus, Leg.L1, Leg.L2),
            ["I1"] = state.AmpsInto(bus, Leg.L1),
            ["I2"] = state.AmpsInto(bus, Leg.L2),
            ["IN"] = -state.AmpsInto(bus, Leg.N), // printed as the sum I1 + I2, back towards the source
        };
        var rows = Cells("expected.csv").Where(row => row[0] == example).ToList();
        Assert.InRange(rows.Count, 5, 6);
        foreach (var row in rows)
        {
            var value = found[row[1]];
            Assert.Equal(Number(row[4]), value.Magnitude, 0.001);
            Assert.Equal(Number(row[5]), value.Phase / Degree, 0.001);
            Assert.Equal(Number(row[2]), value.Magnitude, 0.06); // one printed digit; V1N of 11.2 is cut, not rounded
            if (example != "11.2_100ft_triplex" || row[1] != "V2N")
                Assert.Equal(Number(row[3]), value.Phase / Degree, 0.06);
        }
    }

    [Fact]
    public void The_power_into_the_loads_of_the_first_example_is_the_printed_one()
    {
        var power = Solve(withTriplex: false).VoltAmperesInto("transformer"); // 47 168.7 VA at 26.64°
        Assert.Equal(47_168.7, power.Magnitude, 0.1);
        Assert.Equal(26.64, power.Phase / Degree, 0.01);
    }

    static LoadFlowState Solve(bool withTriplex)
    {
        var source = new Complex(7200, 0) / 60;
        var transformer = SourceImpedance.Transformer(SupplySystem.SplitPhase120, 50e3,
            new Complex(Input("R_pu"), Input("X_pu")).Magnitude, Input("X_pu") / Input("R_pu"));
        var branches = new List<Branch> { new("source", "transformer", transformer) };
        if (withTriplex)
            branches.Add(new("transformer", "load", Triplex() * (Input("length") / 5280)));
        var feeder = new Feeder(SupplySystem.SplitPhase120, "source", [source, -source], branches);
        var bus = withTriplex ? "load" : "transformer";
        return Sweep.Solve(new LoadSet(feeder)
            .Add(bus, Leg.L1, ZipLoad.OfOhms(new(1.4, 0.5), 120))
            .Add(bus, Leg.L2, ZipLoad.OfOhms(new(0.9, 0.4), 120))
            .Add(bus, Leg.L1, Leg.L2, ZipLoad.OfOhms(new(2.0, 1.2), 240))).State;
    }

    /// <summary>
    /// Modified Carson at 60 Hz and 100 ohm·m, ohm per mile: own r + 0.09530 + j0.12134·(ln 1/GMR + 7.93402),
    /// mutual 0.09530 + j0.12134·(ln 1/D + 7.93402); the neutral, grounded at both ends, folded in by Kron's reduction.
    /// </summary>
    static ImpedanceMatrix Triplex()
    {
        Complex Carson(double feet, double r) => new(r + 0.09530, 0.12134 * (Math.Log(1 / feet) + 7.93402));
        var between = (Input("dia") + 2 * Input("insulation")) / 12;
        var toNeutral = (Input("dia") + Input("insulation")) / 12;
        var self = Carson(Input("GMR"), Input("r_cond"));
        var folded = Carson(toNeutral, 0) * Carson(toNeutral, 0) / self;
        return ImpedanceMatrix.From((a, b) =>
            a > Leg.L2 || b > Leg.L2 ? 0 : (a == b ? self : Carson(between, 0)) - folded);
    }

    static double Input(string key) => Number(Inputs[key]);

    /// <summary>A quoted cell of the inputs has commas; only its first two cells are read.</summary>
    static IEnumerable<string[]> Cells(string file) =>
        File.ReadLines(Path.Combine(AppContext.BaseDirectory, "data/kersting-split-120-240", file)).Select(line => line.Split(','));
}
