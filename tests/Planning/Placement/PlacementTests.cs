using Farberth.Planning.Flow;
using Farberth.Planning.Loads;
using Farberth.Planning.Placement;

namespace Farberth.Planning.Tests.Placement;

public class PlacementTests
{
    const double Short = 20;

    /// <summary>Every plan tried, each through the full load flow; the planner may be worse by its resolution.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void On_small_marinas_no_plan_of_all_is_better(int seed)
    {
        var random = new Random(seed);
        var site = InventedMarina.Site(2, 4, random);
        var list = InventedMarina.List(site, 4, 3, 0.2, random);
        var best = BruteForce.Best(new(site, list));
        var answer = InventedMarina.Placed(site, list, Short);
        Assert.Equal(best.Placed, answer.Placed.Count);
        Assert.InRange(answer.Proof.SagVolts, best.SagVolts - 1e-9, best.SagVolts + PlacementSearch.ResolutionVolts(best.SagVolts) + 0.02);
    }

    /// <summary>Far more boats than a thin dock carries: some are refused, and no plan of all places more.</summary>
    [Fact]
    public void Where_not_all_can_be_placed_as_many_are_as_by_trying_every_plan()
    {
        var site = InventedMarina.Read(ThinDock);
        var list = Hot([Guest("Avocet", 2), Guest("Bittern", 2), Guest("Curlew", 2), Guest("Dunlin", 2)]);
        var best = BruteForce.Best(new(site, list));
        Assert.InRange(best.Placed, 1, 3);
        var answer = InventedMarina.Placed(site, list, Short);
        Assert.Equal(best.Placed, answer.Placed.Count);
        var refused = answer.Refused[0];
        Assert.Contains(refused.Slips, slip => slip.Reason == SlipRefusalReason.Power);
        Assert.Matches(@"^T-\d has the size and the plug, but leg L[12] of T\d would fall to \d+\.\d V at \w+ \d+ \w+ \d\d:00\.$", refused.Why);
    }

    [Fact]
    public void Nobody_lies_where_somebody_is_and_every_boat_fits_its_slip_and_its_outlets()
    {
        var random = new Random(11);
        var site = InventedMarina.Site(2, 16, random);
        var list = InventedMarina.List(site, 14, 6, 0.4, random);
        var answer = InventedMarina.Placed(site, list, 4);
        Assert.NotEmpty(answer.Placed);
        foreach (var boat in answer.Placed)
        {
            var slip = site.Slips[boat.Berth.Slip];
            Assert.True(boat.Arrival.Boat.LengthMetres <= slip.LengthMetres && boat.Arrival.Boat.BeamMetres <= slip.BeamMetres
                && boat.Arrival.Boat.DraughtMetres <= slip.DepthMetres);
            Assert.Equal(boat.Arrival.Boat.Cords.Select(cord => cord.RatingAmps).Order(), boat.Berth.Outlets.Select(outlet => outlet.Outlet.RatingAmps).Order());
            Assert.DoesNotContain(list.Present, stay => stay.Slip == boat.Berth.Slip && stay.Until > boat.Arrival.From);
            Assert.DoesNotContain(answer.Placed, other => other != boat && other.Berth.Slip == boat.Berth.Slip && other.Arrival.Overlaps(boat.Arrival));
        }
    }

    /// <summary>One long slip, taken by a short boat: the long one gets it if the short one agreed to move, and only then.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Somebody_moves_only_who_agreed_and_only_to_make_room(bool mayMove)
    {
        var site = InventedMarina.Read(ThinDock);
        var guest = Guest("Egret", 1) with { Boat = Guest("Egret", 1).Boat with { LengthMetres = 14 } };
        var list = Hot([guest]) with { Present = [new Stay("T-4", new("Fulmar", 8, 2.5, 1, [new(30, 1, true)], 0), guest.Until.AddDays(5), mayMove)] };
        var answer = InventedMarina.Placed(site, list, Short);
        Assert.Equal(mayMove ? 1 : 0, answer.Placed.Count);
        Assert.Equal(mayMove ? 1 : 0, answer.Moved.Count);
        var without = InventedMarina.Placed(site, list with { Arrivals = [Guest("Godwit", 1)] }, Short);
        Assert.Empty(without.Moved);
    }

    /// <summary>Those who lie there make its volts too low, one of them may be moved and is not: no worse than that is allowed, and what is best is still known.</summary>
    [Fact]
    public void A_dock_that_is_below_its_band_already_is_planned_all_the_same()
    {
        var site = InventedMarina.Read(ThinDock);
        Stay Present(string slip, bool mayMove) => new(slip, new(slip, 8, 2.5, 1, [new(30, 1, true)], 3), InventedMarina.Start.AddDays(7), mayMove);
        var idle = Guest("Lapwing", 0) with { Boat = Guest("Lapwing", 0).Boat with { Cords = [] } };
        var answer = InventedMarina.Placed(site, Hot([idle]) with { Present = [Present("T-1", false), Present("T-3", false), Present("T-4", true)] }, Short);
        Assert.Equal("T-2", answer.Placed[0].Berth.Slip);
        Assert.Empty(answer.Moved);
        Assert.True(118 - answer.Proof.SagVolts < site.Limits.Volts.LowA);
        Assert.True(answer.Proof.IsProven);
        var dock = Assert.Single(answer.Docks);
        Assert.True(dock.IsBelowBandBefore);
        Assert.True(dock.Before.Volts < site.Limits.Volts.LowA);
        Assert.Equal(dock.Before, dock.Under); // the boat that comes draws nothing
        Assert.False(InventedMarina.Placed(site, Hot([idle]), Short).Docks[0].IsBelowBandBefore);
    }

    /// <summary>Beside a dock that is too low whatever anybody does, the other one is still planned as if it were alone.</summary>
    [Fact]
    public void A_dock_that_is_below_its_band_does_not_hide_the_others()
    {
        var second = ThinDock[ThinDock.IndexOf("  T:", StringComparison.Ordinal)..ThinDock.IndexOf("slips:", StringComparison.Ordinal)].Replace("T", "S", StringComparison.Ordinal);
        var site = InventedMarina.Read(ThinDock.Replace("slips:\n", second + "slips:\n  S-1: {}\n  S-2: {}\n  S-3: {}\n  S-4: {}\n", StringComparison.Ordinal));
        Stay Present(string slip) => new(slip, new(slip, 8, 2.5, 1, [new(30, 1, true)], 3), InventedMarina.Start.AddDays(7), false);
        List<Stay> present = [Present("S-1"), Present("S-3"), Present("S-4"), Present("S-2")];
        ArrivalList list = Hot([Guest("Merganser", 2), Guest("Noddy", 2)]) with { Present = present };
        var answer = InventedMarina.Placed(site, list, Short);
        var alone = InventedMarina.Placed(InventedMarina.Read(ThinDock), list with { Present = [] }, Short);
        Assert.True(answer.Docks.Single(dock => dock.Dock == "S").IsBelowBandBefore);
        Assert.True(answer.Proof.IsProven);
        Assert.Equal(alone.Proof.SagVolts, answer.Proof.SagVolts, 1e-6);
        Assert.True(alone.Proof.SagVolts < 118 - site.Limits.Volts.LowA);
    }

    [Fact]
    public void A_wish_is_met_where_it_costs_no_volts_that_count()
    {
        var site = InventedMarina.Read(ThinDock);
        var idle = Guest("Heron", 0) with { Boat = Guest("Heron", 0).Boat with { Cords = [] } };
        var answer = InventedMarina.Placed(site, Hot([idle with { WishedSlips = ["T-3"] }]), Short);
        Assert.Equal("T-3", answer.Placed[0].Berth.Slip);
        Assert.True(answer.Placed[0].MeetsWishes);
    }

    /// <summary>Once on a clock that stands still, twice on the machine's: the time limit is far away and nothing else asks a clock.</summary>
    [Theory]
    [InlineData(7)]
    [InlineData(8)]
    public void The_same_list_and_seed_give_the_same_plan_whatever_the_clock(int seed)
    {
        var random = new Random(seed);
        var site = InventedMarina.Site(3, 24, random);
        var list = InventedMarina.List(site, 20, 5, 0.4, random);
        (IEnumerable<string>, PlacementProof) Plan(TimeProvider clock)
        {
            var answer = Planner.Place(site, list, new(TimeSpan.FromHours(1), 1, clock, 3), stop: TestContext.Current.CancellationToken);
            return (answer.Placed.Select(boat => $"{boat.Arrival.Boat.Name} in {boat.Berth.Slip}: {string.Join(' ', boat.Berth.Outlets)}"), answer.Proof);
        }
        var (berths, proof) = Plan(new StandingClock());
        Assert.True(proof.IsProven);
        for (var time = 0; time < 2; time++)
        {
            var (again, proofAgain) = Plan(TimeProvider.System);
            Assert.Equal(berths, again);
            Assert.Equal(proof, proofAgain);
        }
    }

    sealed class StandingClock : TimeProvider
    {
        public override long GetTimestamp() => 0;
    }

    [Fact]
    public void A_stop_gives_the_plan_so_far()
    {
        var random = new Random(5);
        var site = InventedMarina.Site(2, 16, random);
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        var answer = Planner.Place(site, InventedMarina.List(site, 10, 5, 0.3, random), PlacementEffort.Usual(TimeProvider.System), stop: stop.Token);
        Assert.NotEmpty(answer.Placed);
        Assert.False(answer.Proof.IsProven);
    }

    /// <summary>In the middle of the search, on a marina of some size: whoever was placed by then is placed, by a plan that the load flow allows.</summary>
    [Fact]
    public void A_stop_while_the_sag_is_sought_gives_a_plan_that_may_be_used()
    {
        var random = new Random(6);
        var site = InventedMarina.Site(4, 50, random);
        var list = InventedMarina.List(site, 40, 7, 0.4, random);
        using var stop = new CancellationTokenSource();
        var seen = 0;
        var answer = Planner.Place(site, list, PlacementEffort.Usual(TimeProvider.System), stop: stop.Token, progress: at =>
        {
            if (at is PlacementProgress.Sag && ++seen == 2)
                stop.Cancel();
        });
        Assert.True(seen >= 2);
        Assert.Equal(40, answer.Placed.Count + answer.Refused.Count);
        Assert.NotEmpty(answer.Placed);
        var problem = new PlacementProblem(site, list);
        var berths = answer.Placed.ToDictionary(boat => problem.Guests.First(guest => guest.Boat.Name == boat.Arrival.Boat.Name), boat => boat.Berth);
        var check = PlanCheck.Of(problem, new(berths));
        Assert.Empty(check.Broken);
        Assert.Equal(answer.Proof.SagVolts, check.SagVolts(problem), 1e-6);
    }

    [Fact]
    public void One_boat_gets_its_slips_ranked_by_the_volts_that_they_leave()
    {
        var site = InventedMarina.Read(ThinDock);
        var ranked = Planner.Rank(site, Hot([Guest("Ibis", 2)]), Guest("Ibis", 2));
        Assert.Equal(["T-1", "T-2", "T-3", "T-4"], ranked.Offers.Select(offer => offer.Berth.Slip).Order());
        Assert.Equal("T-1", ranked.Offers[0].Berth.Slip);
        Assert.Equal(ranked.Offers.Select(offer => offer.LowestVolts).OrderDescending(), ranked.Offers.Select(offer => offer.LowestVolts));
        Assert.Empty(ranked.Refusals);
    }

    /// <summary>By the load flow with the same amps put on by hand; each slip is either offered or refused with its reason.</summary>
    [Fact]
    public void By_what_meters_say_one_boat_is_offered_what_those_who_are_there_leave()
    {
        var (site, guest) = (InventedMarina.Read(ThinDock), Guest("Jay", 1));
        var dock = site.Docks["T"];
        Draw Of(string pedestal, string outlet, double amps) => new(pedestal, dock.Pedestals[pedestal].Outlets[outlet], amps);
        var present = new Stay("T-1", new("Kite", 8, 2.5, 1, [new(30, 1, true)], 0), guest.Until.AddDays(3), false);
        List<Draw> measured = [Of("T1", "A", 15), Of("T1", "B", 0.1), Of("T2", "B", 4)];
        var ranked = Planner.Rank(site, [present], measured, guest, Outdoor.Of(36, 26));

        Assert.Equal(["T-1", "T-4"], ranked.Refusals.Select(refusal => refusal.Slip).Order());
        Assert.Contains("is Kite's until", ranked.Refusals.Single(refusal => refusal.Slip == "T-1").Why.ToString(), StringComparison.Ordinal);
        Assert.Contains("is in use (4.0 A)", ranked.Refusals.Single(refusal => refusal.Slip == "T-4").Why.ToString(), StringComparison.Ordinal);
        Assert.Equal("T-2", ranked.Offers[0].Berth.Slip);
        var most = Enumerable.Range(0, 48).Max(hour => BoatDemand.AmpsPerContact(site.Supply, guest.Boat, hour % 24, Outdoor.Of(36, 26).At(new DateTime(2027, 7, 17).AddHours(hour))));
        var flow = DockCase.Usual(site, dock, 36 + site.Limits.SunRiseKelvin).Solve([.. measured, Of("T2", "A", most)]);
        Assert.Equal(flow.Lowest.Volts, ranked.Offers.Single(offer => offer.Berth.Slip == "T-3").LowestVolts, 0.05);
    }

    static ArrivalList Hot(IReadOnlyList<Arrival> arrivals) => new(InventedMarina.Start, arrivals, [], Outdoor.Of(36, 26));

    static Arrival Guest(string name, int airConditioners) => new(
        new(name, 9, 3, 1.2, [new(30, 1, true)], airConditioners), InventedMarina.Start, InventedMarina.Start.AddDays(2), null, []);

    /// <summary>Invented: four slips on a cable that is too long for four hot boats.</summary>
    const string ThinDock = """
        site: thin-reach
        timezone: America/New_York
        supply: 120/240 V single-phase 3-wire
        docks:
          T:
            source: { no-load: 118 V, transformer: { rating: 37.5 kVA, impedance: 2.4 %, x/r: 1.5 } }
            cables:
              - { from: source, to: T1, length: 450 ft, conductor: 1/0 AWG Al, raceway: pvc }
              - { from: T1, to: T2, length: 60 ft, conductor: 1/0 AWG Al, raceway: pvc }
            pedestals:
              T1: { outlets: { A: { rating: 30 A, legs: [L1], slip: T-1 }, B: { rating: 30 A, legs: [L2], slip: T-2 } } }
              T2: { outlets: { A: { rating: 30 A, legs: [L1], slip: T-3 }, B: { rating: 30 A, legs: [L1], slip: T-4 } } }
        slips:
          T-1: { length: 32 ft, beam: 12 ft, depth: 6 ft }
          T-2: { length: 32 ft, beam: 12 ft, depth: 6 ft }
          T-3: { length: 32 ft, beam: 12 ft, depth: 6 ft }
          T-4: { length: 50 ft, beam: 16 ft, depth: 8 ft }
        """;
}
