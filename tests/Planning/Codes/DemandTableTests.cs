using Farberth.Monitoring.Site;
using Farberth.Planning.Codes;
using Farberth.Grid.Network;

namespace Farberth.Planning.Tests.Codes;

/// <summary>NEC table 555.6 (555.12 in the editions 2002 to 2017): rows, notes and feeders that other people have worked out.</summary>
public class DemandTableTests
{
    /// <summary>
    /// Read in forums.mikeholt.com threads 105143 (10, 15, 20), 25225 (28), 1074 (35, 48), 2555066 (71) and the code quiz of ecmweb.com (45);
    /// from memory: 4, 8, 60, 101.
    /// </summary>
    [Theory]
    [InlineData(4, 1.0)]
    [InlineData(8, 0.9)]
    [InlineData(10, 0.8)]
    [InlineData(15, 0.7)]
    [InlineData(20, 0.7)]
    [InlineData(28, 0.7)]
    [InlineData(35, 0.6)]
    [InlineData(45, 0.5)]
    [InlineData(48, 0.5)]
    [InlineData(60, 0.4)]
    [InlineData(71, 0.3)]
    [InlineData(101, 0.2)]
    public void A_count_of_receptacles_has_the_factor_of_its_row(int receptacles, double share) =>
        Assert.Equal(share, DemandTable.Share(receptacles));

    [Fact]
    public void The_rows_leave_no_gap_and_the_factors_fall()
    {
        var rows = DemandTable.Rows;
        Assert.Equal(1, rows[0].FromReceptacles);
        Assert.All(rows.Zip(rows.Skip(1)), pair =>
        {
            Assert.Equal(pair.First.ToReceptacles + 1, pair.Second.FromReceptacles);
            Assert.True(pair.Second.Share < pair.First.Share);
        });
    }

    /// <summary>Worked in forums.mikeholt.com thread 1074: 48 slips of 30 A, 50 %: 86 400 VA, 360 A at 240 V; the 20 A beside 21 of them are left out.</summary>
    [Fact]
    public void Forty_eight_slips_of_30_A_take_360_A_and_smaller_receptacles_beside_them_nothing()
    {
        var demand = Of(48, slip => slip <= 21 ? "A: { rating: 30 A, legs: [L1], slip: S }, B: { rating: 20 A, legs: [L2], slip: S }" : "A: { rating: 30 A, legs: [L1], slip: S }");
        Assert.Equal((48, 21), (demand.Receptacles, demand.LeftOut));
        Assert.Equal(86_400, demand.VoltAmperes, 1e-6);
        Assert.Equal(360, demand.AmpsPerLeg, 1e-9);
    }

    /// <summary>The same thread: 24 of 30 A and 11 of 20 A on one panel, 60 %: 67 680 VA, 282 A. (It misprints its first term; the sum is right.)</summary>
    [Fact]
    public void Receptacles_of_two_sizes_at_slips_of_their_own_all_count()
    {
        var demand = Of(35, slip => $"A: {{ rating: {(slip <= 24 ? 30 : 20)} A, legs: [L1], slip: S }}");
        Assert.Equal(67_680, demand.VoltAmperes, 1e-6);
        Assert.Equal(282, demand.AmpsPerLeg, 1e-9);
    }

    /// <summary>Note 1 in forums.mikeholt.com thread 105143: 10 slips, each of 30 A/120 V and 50 A/240 V: 120 kVA times the factor of 10, not 20: 96 kVA.</summary>
    [Fact]
    public void The_count_for_the_factor_is_the_count_for_the_load() => Assert.Equal(
        96_000, Of(10, _ => "A: { rating: 30 A, legs: [L1], slip: S }, B: { rating: 50 A, legs: [L1, L2], slip: S }").VoltAmperes, 1e-6);

    /// <summary>Note 2 (from memory): times 0.9 with a meter at each slip.</summary>
    [Fact]
    public void Meters_at_each_slip_take_a_tenth_off()
    {
        var dock = Dock(10, _ => "A: { rating: 50 A, legs: [L1, L2], slip: S }");
        Assert.Equal(86_400, DemandTable.Of(SupplySystem.SplitPhase120, dock, isSubmetered: true).VoltAmperes, 1e-6);
    }

    static DockDemand Of(int slips, Func<int, string> outlets) => DemandTable.Of(SupplySystem.SplitPhase120, Dock(slips, outlets), isSubmetered: false);

    static DockDefinition Dock(int slips, Func<int, string> outlets) => InventedMarina.Read($$"""
        site: counted
        timezone: UTC
        supply: 120/240 V single-phase 3-wire
        docks:
          C:
            source: { no-load: 120 V }
            cables:
        {{string.Join('\n', Enumerable.Range(1, slips).Select(n => $"      - {{ from: source, to: P{n}, length: 10 m, conductor: 6 AWG Cu, raceway: pvc }}"))}}
            pedestals:
        {{string.Join('\n', Enumerable.Range(1, slips).Select(n => $"      P{n}: {{ outlets: {{ {outlets(n).Replace("slip: S", $"slip: S-{n}")} }} }}"))}}
        slips:
        {{string.Join('\n', Enumerable.Range(1, slips).Select(n => $"  S-{n}: {{ length: 10 m }}"))}}
        """).Docks["C"];
}
