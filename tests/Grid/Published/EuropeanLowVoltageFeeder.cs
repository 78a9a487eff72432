using System.Numerics;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using static Farberth.Grid.Tests.Published.SharedFeeders;

namespace Farberth.Grid.Tests.Published;

/// <summary>
/// The IEEE PES European low-voltage test feeder: 906 buses, 55 single-phase loads, 11/0.416 kV Dyn1 transformer.
/// Source: IEEE PES test feeder package; its two published solutions come from two general distribution engines.
/// </summary>
public class EuropeanLowVoltageFeeder
{
    const string Folder = "european-lv/";
    const double LowVoltsPerHighVolts = 416.0 / 11_000;

    static readonly Dictionary<int, string> Snapshots = new()
    {
        [1] = "1min_Initialization_Off_Peak",
        [566] = "566min_On_Peak",
        [1440] = "1440min_End",
    };

    [Theory]
    [InlineData(1)]
    [InlineData(566)]
    [InlineData(1440)]
    public void Every_bus_is_within_2_mV_of_the_first_published_solution(int minute)
    {
        var state = Solve(Build(), minute);
        var worst = 0.0;
        foreach (var row in Rows($"{Folder}solution/OpenDSS_Snapshot_{Snapshots[minute]}_Voltages.csv").Skip(2))
            for (var leg = Leg.L1; leg <= Leg.L3; leg++)
                worst = Math.Max(worst, Math.Abs(Number(row[3 + 4 * (int)leg]) - state.VoltsAt(row[0], leg).Magnitude));
        Assert.InRange(worst, 1e-6, 0.002); // printed to six digits, so not exactly 0 either
    }

    [Theory]
    [InlineData(1)]
    [InlineData(566)]
    [InlineData(1440)]
    public void Every_phasor_is_within_a_fifth_of_a_millivolt_of_the_second_published_solution(int minute)
    {
        var state = Solve(Build(), minute);
        var worst = 0.0;
        foreach (var row in Rows($"{Folder}solution/GridLAB-D_Snapshot_{Snapshots[minute]}_Voltages.csv").Skip(2).Where(row => row[0].StartsWith("Bus")))
            for (var leg = Leg.L1; leg <= Leg.L3; leg++)
            {
                var published = Complex.FromPolarCoordinates(Number(row[1 + 2 * (int)leg]), Number(row[2 + 2 * (int)leg]));
                worst = Math.Max(worst, (published - state.VoltsAt(row[0]["Bus".Length..], leg)).Magnitude);
            }
        Assert.InRange(worst, 1e-9, 0.0002);
    }

    [Fact]
    public void A_whole_day_at_three_loads_is_within_the_printed_digits()
    {
        var feeder = Build();
        var places = new Dictionary<int, Leg> { [1] = Leg.L1, [32] = Leg.L3, [53] = Leg.L2 };
        var loads = Rows($"{Folder}Loads.csv").Skip(1).ToDictionary(row => row[0], row => row[2]);
        var published = places.Keys.ToDictionary(load => load, load =>
            Rows($"{Folder}solution/OpenDSS_Voltages_and_Currents_Load_1_32_53_24hr_Load_{load}.csv")
                .Skip(1).Select(row => Number(row[2])).ToList());
        var state = new LoadFlowState(feeder);
        var minute = 0;
        foreach (var profile in Rows($"{Folder}load_profiles_kW.csv").Skip(1))
        {
            Assert.True(Sweep.Solve(LoadsAt(feeder, profile), state, StoppingRule.Usual).Converged);
            foreach (var (load, leg) in places)
                Assert.Equal(published[load][minute], state.VoltsAt(loads[$"LOAD{load}"], leg).Magnitude, 0.0025);
            minute++;
        }
        Assert.Equal(1440, minute);
    }

    static LoadFlowState Solve(Feeder feeder, int minute)
    {
        var profile = Rows($"{Folder}load_profiles_kW.csv").Skip(1).First(row => row[0] == $"{minute}");
        var result = Sweep.Solve(LoadsAt(feeder, profile));
        Assert.Equal(LoadFlowStatus.Converged, result.Status);
        return result.State;
    }

    static LoadSet LoadsAt(Feeder feeder, string[] profile)
    {
        var loads = new LoadSet(feeder);
        foreach (var row in Rows($"{Folder}Loads.csv").Skip(1))
        {
            var shape = int.Parse(row[9]["Shape_".Length..]);
            var watts = Number(profile[shape]) * 1000;
            var vars = watts * Math.Tan(Math.Acos(Number(row[8])));
            loads.Add(row[2], Leg.L1 + (row[3][0] - 'A'), ZipLoad.ConstantPower(new Complex(watts, vars)));
        }
        return loads;
    }

    /// <summary>The delta winding blocks the source's zero sequence: behind the secondary stands Zs + Zt, in zero sequence Zt alone.</summary>
    static Feeder Build()
    {
        var source = Split(11_000 / Math.Sqrt(3) / 3000, xOverR: 4) * (LowVoltsPerHighVolts * LowVoltsPerHighVolts);
        var transformer = new Complex(0.004, 0.04) * 416 * 416 / 800e3;
        var openCircuit = Enumerable.Range(0, 3)
            .Select(leg => Complex.FromPolarCoordinates(1.05 * 416 / Math.Sqrt(3), (-30 - 120 * leg) * Math.PI / 180)).ToList();
        var codes = Rows($"{Folder}LineCodes.csv").Skip(1).ToDictionary(row => row[0],
            row => ImpedanceMatrix.FromSequence(new(Number(row[2]), Number(row[3])), new(Number(row[4]), Number(row[5]))));
        var branches = Rows($"{Folder}Lines.csv").Where(row => row[0].StartsWith("LINE"))
            .Select(row => new Branch(row[1], row[2], codes[row[6]] * (Number(row[4]) / 1000)))
            .Prepend(new Branch("source", "1", ImpedanceMatrix.FromSequence(source + transformer, transformer)));
        return new Feeder(SupplySystem.Wye400, "source", openCircuit, branches);
    }

    static Complex Split(double magnitude, double xOverR) =>
        new Complex(1, xOverR) * (magnitude / Math.Sqrt(1 + xOverR * xOverR));
}
