using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Planning.Balancing;
using Farberth.Planning.Survey;
using Farberth.Planning.Tests.Survey;

namespace Farberth.Planning.Tests.Balancing;

/// <summary>Outlets on more than one leg: other pairs, exchanged lines, rotations.</summary>
public class WiringTests
{
    const int Minutes = 120;

    [Theory]
    [InlineData("A", "L2", "L3")]
    [InlineData("B", "L1+L3", "L2+L1", "L2+L3", "L3+L1", "L3+L2")]
    [InlineData("C", "L1+L3", "L2+L3")]
    [InlineData("D", "L2+L3+L1", "L3+L1+L2")]
    public void The_other_ways_of_an_outlet_of_a_wye_are(string outlet, params string[] others) => Assert.Equal(
        others, Wiring.Ways(Wye.Supply.Legs, Wye.Docks["W"].Pedestals["W1"].Outlets[outlet]).Skip(1).Select(way => string.Join('+', way)).Order(StringComparer.Ordinal));

    /// <summary>Every way of every outlet, alone and with every way of every other one, by the load flow over the record.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void On_a_wye_no_move_and_no_pair_of_moves_lifts_the_lowest_volts_further(int seed)
    {
        var random = new Random(seed);
        var amps = Wye.Docks["W"].Pedestals.Values.SelectMany(pedestal => pedestal.Outlets.Values.SelectMany(outlet =>
            outlet.Legs.Select(leg => (pedestal.Name, outlet.Name, leg)))).ToDictionary(at => at, _ => 20 * random.NextDouble());
        AssertBest(Wye, Recording(Wye, (pedestal, outlet, leg, minute) => amps[(pedestal, outlet, leg)] * (1 + minute / 60)));
    }

    /// <summary>All 125/250 V outlets carry more on their first line; an exchange of two of the four evens that out.</summary>
    [Fact]
    public void Lines_that_carry_unlike_loads_change_places()
    {
        var history = Recording(Split, (pedestal, _, leg, _) => leg == Leg.L1 ? 14 + pedestal[1] - '0' : 4);
        var balance = AssertBest(Split, history);
        Assert.InRange(balance.Advised!.Moves.Count, 1, 2);
        Assert.All(balance.Advised.Moves, move => Assert.EndsWith("from L1+L2 to L2+L1", move.ToString()));
        Assert.True(balance.Advised.After.MeanNeutralAmps < 0.6 * balance.Before.MeanNeutralAmps);
    }

    [Fact]
    public void Lines_that_carry_like_loads_stay() => Assert.Null(
        LegBalancing.Of(Split, Recording(Split, (_, _, _, _) => 15), 2, TimeSpan.FromSeconds(10), TestContext.Current.CancellationToken).Advised);

    static LegBalance AssertBest(SiteDefinition site, DockHistory history)
    {
        var record = new LegRecord(site, history);
        List<LegMove> all = [.. from pedestal in history.Dock.Pedestals.Values
                                from outlet in pedestal.Outlets.Values
                                from way in Wiring.Ways(site.Supply.Legs, outlet).Skip(1)
                                select new LegMove(pedestal.Name, outlet.Name, outlet.Legs, way)];
        var pairs = from one in all from other in all where (one.Pedestal, one.Outlet) != (other.Pedestal, other.Outlet) select new[] { one, other };
        double Lowest(params LegMove[] moves) => record.With(moves).LowestVolts;
        var (best, bestOfTwo) = (all.Max(move => Lowest(move)), pairs.Max(Lowest));
        var balance = LegBalancing.Of(site, history, 2, TimeSpan.FromSeconds(20), TestContext.Current.CancellationToken);
        var unmoved = balance.Before.LowestVolts;
        Assert.InRange(balance.Steps.Count > 0 ? balance.Steps[0].After.LowestVolts : unmoved, best - 0.03, best + 1e-9);
        Assert.InRange(balance.Steps.Select(step => step.After.LowestVolts).Append(unmoved).Max(), Math.Max(best, bestOfTwo) - 0.03, Math.Max(best, bestOfTwo) + 1e-9);
        return balance;
    }

    static DockHistory Recording(SiteDefinition site, Func<string, string, Leg, int, double> amps)
    {
        var dock = site.Docks.Values.Single();
        var (builder, volts) = (new HistoryBuilder(site, dock), site.Supply.Legs.Aggregate(PerLeg.None, (each, leg) => each.With(leg, 120)));
        for (var minute = 0; minute <= Minutes; minute++)
            foreach (var pedestal in dock.Pedestals.Values)
                builder.Take(new Reading(Recorded.Start.AddMinutes(minute), pedestal.Name, null, volts, pedestal.Outlets.Values.ToDictionary(
                    outlet => outlet.Name,
                    outlet => new OutletReading(outlet.Legs.Aggregate(PerLeg.None, (each, leg) => each.With(leg, amps(pedestal.Name, outlet.Name, leg, minute))), PerLeg.None, null, null, true))));
        return builder.Build();
    }

    /// <summary>Invented.</summary>
    static readonly SiteDefinition Wye = InventedMarina.Read("""
        site: wye
        timezone: UTC
        supply: 208Y/120 V
        docks:
          W:
            source: { no-load: 121 V, transformer: { rating: 75 kVA, impedance: 2.5 %, x/r: 1.5 } }
            cables:
              - { from: source, to: W1, length: 40 m, conductor: 2/0 AWG Al, raceway: pvc }
              - { from: W1, to: W2, length: 30 m, conductor: 2/0 AWG Al, raceway: pvc }
            pedestals:
              W1: { outlets: { A: { rating: 30 A, legs: [L1] }, B: { rating: 50 A, legs: [L1, L2] }, C: { rating: 50 A, legs: [L1, L2], neutral: false }, D: { rating: 60 A, legs: [L1, L2, L3] } } }
              W2: { outlets: { A: { rating: 30 A, legs: [L1] }, B: { rating: 50 A, legs: [L1, L2] }, C: { rating: 50 A, legs: [L2, L3], neutral: false } } }
        """);

    /// <summary>Invented.</summary>
    static readonly SiteDefinition Split = InventedMarina.Read("""
        site: split
        timezone: UTC
        supply: 120/240 V single-phase 3-wire
        docks:
          S:
            source: { no-load: 120 V, transformer: { rating: 50 kVA, impedance: 2.5 %, x/r: 1.5 } }
            cables:
              - { from: source, to: S1, length: 60 m, conductor: 4/0 AWG Al, raceway: pvc }
              - { from: S1, to: S2, length: 30 m, conductor: 2/0 AWG Al, raceway: pvc }
              - { from: S2, to: S3, length: 30 m, conductor: 2/0 AWG Al, raceway: pvc }
              - { from: S3, to: S4, length: 30 m, conductor: 2/0 AWG Al, raceway: pvc }
            pedestals:
              S1: { outlets: { A: { rating: 50 A, legs: [L1, L2] } } }
              S2: { outlets: { A: { rating: 50 A, legs: [L1, L2] } } }
              S3: { outlets: { A: { rating: 50 A, legs: [L1, L2] } } }
              S4: { outlets: { A: { rating: 50 A, legs: [L1, L2] } } }
        """);
}
