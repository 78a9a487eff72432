using System.Numerics;
using Farberth.Grid.Network;
using Farberth.Grid.Protection;
using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Loads;
using Farberth.Planning.Study;

namespace Farberth.Planning.Tests.Study;

public class StudyTests
{
    /// <summary>Invented: 4/0 aluminium for 150 m, reduced neutral, stiff source.</summary>
    static readonly SiteDefinition Site = InventedMarina.Read("""
        site: studied
        timezone: UTC
        supply: 120/240 V single-phase 3-wire
        docks:
          C:
            source: { no-load: 121 V, transformer: { rating: 50 kVA, impedance: 2.5 %, x/r: 1.5 } }
            feeder-breaker: 225 A
            cables:
              - { from: source, to: C1, length: 60 m, conductor: 4/0 AWG Al, neutral: 1/0 AWG Al, raceway: pvc }
              - { from: C1, to: C2, length: 45 m, conductor: 4/0 AWG Al, neutral: 1/0 AWG Al, raceway: pvc }
              - { from: C2, to: C3, length: 45 m, conductor: 4/0 AWG Al, raceway: pvc }
            pedestals:
              C1: { outlets: { A: { rating: 30 A, legs: [L1] }, B: { rating: 30 A, legs: [L2] } } }
              C2: { outlets: { A: { rating: 30 A, legs: [L1] }, B: { rating: 30 A, legs: [L1] } } }
              C3: { outlets: { A: { rating: 30 A, legs: [L1] }, B: { rating: 50 A, legs: [L1, L2] } } }
        """);

    static readonly DockDefinition Dock = Site.Docks["C"];

    /// <summary>
    /// The hand formula of the NEC's informational notes and of every electrician's book (from memory): a single-phase load loses 2·L·I·R, R of
    /// table 8 (4/0 aluminium 0.100 ohm/kft at 75 °C, confirmed), X neglected. 100 ft, 80 A, 240 V: 1.60 V, 0.67 %.
    /// </summary>
    [Fact]
    public void A_cable_loses_what_the_hand_formula_says()
    {
        var site = InventedMarina.Read("""
            site: drop
            timezone: UTC
            supply: 120/240 V single-phase 3-wire
            docks:
              C:
                source: { no-load: 120 V }
                cables: [ { from: source, to: C1, length: 100 ft, conductor: 4/0 AWG Al, raceway: pvc } ]
                pedestals: { C1: { outlets: { A: { rating: 100 A, legs: [L1, L2] } } } }
            limits: { power-factor: 1, load-response: 0 }
            """);
        var dock = site.Docks["C"];
        var draws = new[] { new Draw("C1", dock.Pedestals["C1"].Outlets["A"], 80) };
        var flow = DockStudy.Of(site, dock, draws, outdoorCelsius: 65).Flow; // raceway 75 °C: at the table's temperature, or a little above
        var lost = 240 - flow.State.VoltsBetween("C1", Leg.L1, Leg.L2).Magnitude;
        Assert.Equal(1.60, lost, 0.10);
    }

    /// <summary>
    /// Point-to-point method of a fuse maker's handbook, its system A (from memory): 1 500 kVA, 480 V, 3.5 %, infinite primary: 1 804 A at full
    /// load, 51 540 A at the terminals; 25 ft of six 500 kcmil in steel (C = 22 185): f = 0.0349, M = 0.9663, 49 803 A; 50 ft of one more:
    /// f = 0.4050, M = 0.7117, 35 445 A. It adds magnitudes, so the impedances here lie on one angle.
    /// </summary>
    [Fact]
    public void Available_fault_current_is_that_of_the_point_to_point_method()
    {
        var supply = new SupplySystem("480Y/277 V", 480 / Math.Sqrt(3), 60, [0, -120, 120]);
        ImpedanceMatrix Feet(double feet, int sets) => ImpedanceMatrix.Separate(supply, feet / (22_185.0 * sets), 0);
        var volts = supply.NominalVolts;
        var feeder = new Feeder(supply, "utility", new PerLeg(volts, volts, volts),
        [
            new Branch("utility", "terminals", SourceImpedance.Transformer(supply, 1500e3, 0.035, 0)),
            new Branch("terminals", "X1", Feet(25, 6)),
            new Branch("X1", "X2", Feet(50, 1)),
        ]);
        Assert.Equal([51_540, 49_803, 35_445], FaultCurrent.Along(feeder).Select(level => level.ThreePhaseAmps), (expected, found) => Math.Abs(found / expected - 1) < 0.002);
    }

    [Fact]
    public void Faults_fall_and_breakers_take_longer_outwards()
    {
        var faults = Faults.Along(Site, Dock);
        Assert.Equal(["C1", "C2", "C3"], faults.Select(fault => fault.Pedestal));
        Assert.All(faults.Zip(faults.Skip(1)), pair =>
        {
            Assert.True(pair.Second.LeastAmps < pair.First.LeastAmps && pair.Second.MostAmps < pair.First.MostAmps);
            Assert.True(pair.Second.FeederSeconds >= pair.First.FeederSeconds && pair.Second.OutletSeconds >= pair.First.OutletSeconds);
        });
        Assert.All(faults, fault => Assert.Equal(121 / fault.LoopOhms.Magnitude, fault.LeastAmps, 1e-6)); // the law of Ohm
    }

    [Fact]
    public void Every_upgrade_is_judged_and_a_full_neutral_helps_where_the_legs_differ()
    {
        var study = DockStudy.Of(Site, Dock, StatedLoads.OfRatings(Dock, 0.5), 35);
        var effects = UpgradeEffect.Ranked(Site, study, 35);
        Assert.Equal(Upgrade.Of(Site, Dock).Count(), effects.Count);
        var neutrals = effects.Single(effect => effect.Upgrade.What.StartsWith("all 2 reduced neutrals", StringComparison.Ordinal));
        Assert.True(neutrals.GainVolts > 0 && neutrals.SavedWatts > 0);
        Assert.True(neutrals.Faults[^1].LeastAmps > study.Faults[^1].LeastAmps);
        var tap = effects.Single(effect => effect.Upgrade.What.StartsWith("transformer tap", StringComparison.Ordinal));
        Assert.InRange(tap.GainVolts, 0.025 * 121 * 0.9, 0.025 * 121 * 1.15); // 3 V more behind the transformer, and a little less current
        Assert.Equal(effects.Select(effect => Math.Round(effect.MoreShare, 2)).OrderDescending(), effects.Select(effect => Math.Round(effect.MoreShare, 2)));
    }

    /// <summary>A second feed takes the outer part off: its loads no longer drop volts in the first cable.</summary>
    [Fact]
    public void A_second_feed_is_a_cable_of_its_own_from_the_source()
    {
        var feed = Upgrade.Of(Site, Dock).Single(upgrade => upgrade.What.StartsWith("second feed to C2", StringComparison.Ordinal)).After;
        var cable = feed.Cables.Single(each => each.To == "C2");
        Assert.Equal(("source", 105.0), (cable.From, cable.LengthMetres));
        Assert.True(DockStudy.Of(Site, feed, StatedLoads.OfRatings(Dock, 0.5), 35).Flow.Lowest.Volts > DockStudy.Of(Site, Dock, StatedLoads.OfRatings(Dock, 0.5), 35).Flow.Lowest.Volts);
    }

    /// <summary>Trying every set of outlets finds no larger one.</summary>
    [Fact]
    public void As_many_boats_are_hosted_as_the_best_of_all_sets_of_outlets()
    {
        var boat = TypicalBoat.Of(Site.Supply, new(30, 1, true)) with { AirConditioners = 2 };
        var tight = Site with { Limits = Site.Limits with { Volts = Site.Limits.Volts with { LowA = 115 } } };
        var hosting = Hosting.Of(tight, Dock, boat, [], 36);
        Assert.InRange(hosting.Boats, 1, hosting.FreeOutlets - 1);
        Assert.NotNull(hosting.First);
        var amps = TypicalBoat.PeakAmps(tight.Supply, boat, 36);
        var @case = DockCase.Usual(tight, Dock, 36 + tight.Limits.SunRiseKelvin);
        List<Draw> outlets = [.. Dock.Pedestals.Values.SelectMany(at => at.Outlets.Values.Where(boat.Cords[0].Fits).Select(outlet => new Draw(at.Name, outlet, amps)))];
        var most = Enumerable.Range(0, 1 << outlets.Count).Where(set => @case.Solve(outlets.Where((_, at) => (set >> at & 1) == 1)).IsGood).Max(set => BitOperations.PopCount((uint)set));
        Assert.Equal(most, hosting.Boats);
        Assert.True(hosting.BoatsFromFarEnd <= hosting.Boats);
    }

    [Fact]
    public void Loads_past_collapse_are_an_answer_and_no_exception()
    {
        var study = DockStudy.Of(Site, Dock, StatedLoads.OfRatings(Dock, 20), 35);
        Assert.False(study.Flow.IsGood);
    }
}
