using System.Text.Json.Nodes;
using CsCheck;
using Farberth.Grid.Conductors;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms.Rules;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Wire;

namespace Farberth.Monitoring.Tests.Estimate;

public class DockEstimateTests
{
    /// <summary>
    /// By hand: 25 A on one leg through 60 m of 4/0 and 80 m of 1/0 aluminium in PVC. NEC chapter 9 table 9 at 75 °C: 0.10
    /// and 0.20 ohm per 1000 ft; leg and neutral: 2·25·(0.1968·0.10 + 0.2625·0.20) = 3.6 V, cooler conductors a tenth less.
    /// </summary>
    [Fact]
    public void The_far_end_loses_what_the_handbook_table_says()
    {
        var dock = new TestDock().Say("B3", 116, 121, ("A", Leg.L1, 25)).Run(TimeSpan.FromSeconds(30));
        var estimate = dock.Last.Picture.Estimate;
        Assert.Equal(LoadFlowStatus.Converged, estimate.Status);
        var drops = new[] { "B1", "B2", "B3" }.Sum(cable => estimate.Cables[cable].DropVolts[Leg.L1] + estimate.Cables[cable].DropVolts.N);
        Assert.InRange(drops, 0.83 * 3.6, 3.6);
        Assert.Equal(25, estimate.Cables["B2"].Amps.N, 0.1); // as read, but for what the volts say of it
    }

    /// <summary>Readings made by a load flow whose source stands elsewhere than the site file says come back as that load flow.</summary>
    [Fact]
    public void A_source_that_is_higher_or_lower_than_the_file_says_is_found_from_the_measured_volts()
    {
        Gen.Select(Gen.Double[110, 128], Gen.Double[110, 128], Gen.Double[0, 30].Array[6]).Sample((source1, source2, amps) =>
        {
            var dock = new TestDock();
            var feeder = DockFeeder.Build(TestDock.Site, dock.Definition, new PerLeg(source1, source2, double.NaN), _ => (40, 40));
            var truth = Sweep.Solve(Loads(feeder, amps)).State;
            foreach (var (name, at) in new[] { ("B1", 0), ("B2", 2), ("B3", 4) })
                dock.Say(name, truth.VoltsAt(name, Leg.L1).Magnitude, truth.VoltsAt(name, Leg.L2).Magnitude,
                    ("A", Leg.L1, amps[at]), ("B", Leg.L2, amps[at + 1]));
            dock.Run(TimeSpan.FromSeconds(11));
            var estimate = dock.Last.Picture.Estimate;
            foreach (var name in dock.Definition.Pedestals.Keys)
                foreach (var leg in TestDock.Site.Supply.Legs)
                    Assert.Equal(truth.VoltsAt(name, leg).Magnitude, estimate.Pedestals[name].Volts[leg], 0.25); // conductor heat
        }, iter: 100);
    }

    [Fact]
    public void With_nothing_measured_the_file_speaks_and_says_how_little_it_knows()
    {
        var dock = new TestDock();
        dock.Says.Clear();
        dock.Run(TimeSpan.FromSeconds(5));
        var far = dock.Last.Picture.Estimate.Pedestals["B3"];
        Assert.Equal(122, far.Volts[Leg.L1], 1e-9);
        Assert.InRange(far.VoltsSd[Leg.L1], 6, 7); // 5 % of nominal for the source, and loads that nobody measures
    }

    [Fact]
    public void A_pedestal_that_was_never_heard_is_said_to_be_undetermined_and_so_is_a_dock_that_nobody_hears()
    {
        var dock = new TestDock().Run(TimeSpan.FromSeconds(11));
        Assert.Empty(dock.Last.Picture.Estimate.Unobserved);

        dock = new TestDock();
        dock.Says.Remove("B3");
        dock.Run(TimeSpan.FromSeconds(11));
        Assert.Equal([new("B3", Volts: false, Amps: true)], dock.Last.Picture.Estimate.Unobserved); // its neighbour's volts tie its own
        var state = JsonNode.Parse(DockStateJson.Of(dock.Last))!;
        Assert.Equal("""{"B3":["amps"]}""", state["unobserved"]!.ToJsonString());

        dock = new TestDock();
        dock.Says.Clear();
        dock.Run(TimeSpan.FromSeconds(11));
        Assert.Equal(["B1", "B2", "B3"], dock.Last.Picture.Estimate.Unobserved.Where(one => one is { Volts: true, Amps: true }).Select(one => one.Pedestal));
    }

    [Fact]
    public void Volts_between_two_meters_are_determined_though_nobody_measures_them()
    {
        var dock = new TestDock();
        dock.Says.Remove("B1");
        dock.Run(TimeSpan.FromSeconds(11));
        Assert.Equal(["B1"], dock.Last.Picture.Estimate.Unobserved.Select(one => one.Pedestal));
        Assert.False(dock.Last.Picture.Estimate.Unobserved.Single().Volts);
        dock.Hear(TestDock.Reading("B1", 120, 120, ("A", Leg.L1, 25)) with { Time = dock.Now }).Run(TimeSpan.FromSeconds(1));
        Assert.Empty(dock.Last.Picture.Estimate.Unobserved);
        dock.Run(TimeSpan.FromMinutes(3)); // it falls silent: what it drew is no longer known, its volts are
        Assert.Equal([new("B1", Volts: false, Amps: true)], dock.Last.Picture.Estimate.Unobserved);
    }

    /// <summary>Ohm's law for a heater, P = V·I for a motor: at volts a tenth lower the one draws a tenth less, the other a ninth more.</summary>
    [Theory]
    [InlineData(1, 18.0)]
    [InlineData(0, 20.0)]
    [InlineData(-1, 22.2)]
    public void The_held_amps_of_a_silent_pedestal_answer_to_the_volts(double response, double amps)
    {
        var dock = new TestDock().Say("B3", 120, 120, ("A", Leg.L1, 20)).Run(TimeSpan.FromSeconds(11));
        var image = dock.Last.Picture.Image;
        var silent = image with
        {
            Pedestals = image.Pedestals.Each((name, pedestal) => name == "B3" ? pedestal with { SilentFor = TimeSpan.FromHours(1) } : pedestal),
        };
        var learned = new DockLearned([], new Dictionary<OutletKey, LearnedResponse> { [new("B3", "A")] = new(response, 0.1) });
        double Drawn(DockImage at)
        {
            var feeder = DockFeeder.Build(TestDock.Site, dock.Definition, new PerLeg(108, 108, double.NaN), _ => (40, 40));
            var branches = feeder.Branches.Select(branch => branch with { Impedance = ImpedanceMatrix.Zero }); // 108 V everywhere
            var stiff = new Feeder(feeder.Supply, DockFeeder.OpenCircuit, new PerLeg(108, 108, double.NaN), branches);
            return Sweep.Solve(OutletLoads.Of(stiff, at, TestDock.Site.Limits, learned)).State.AmpsDrawnAt("B3", Leg.L1).Magnitude;
        }
        Assert.Equal(amps, Drawn(silent), 0.03);
        Assert.Equal(20, Drawn(image), 1e-9); // what is read now stands
    }

    [Fact]
    public void An_outlet_that_is_open_draws_nothing_and_one_that_was_open_may_draw_again()
    {
        var dock = new TestDock();
        var open = TestDock.Reading("B2", 120, 120);
        dock.Says["B2"] = open with { Outlets = open.Outlets.ToDictionary(pair => pair.Key, pair => pair.Value with { Closed = false }) };
        dock.Run(TimeSpan.FromSeconds(11));
        Assert.Equal(0, dock.Last.Picture.Estimate.Pedestals["B2"].Amps[Leg.L1], 1e-3);
        Assert.InRange(dock.Last.Picture.Estimate.Pedestals["B2"].AmpsSd[Leg.L1], 0, 1e-3);
        dock.Says.Remove("B2");
        dock.Run(TimeSpan.FromMinutes(3));
        Assert.InRange(dock.Last.Picture.Estimate.Pedestals["B2"].AmpsSd[Leg.L1], 1, 5);
    }

    /// <summary>A cable of three times the stated length fits no amps: the sum of squares says so and every deviation is wider.</summary>
    [Fact]
    public void Readings_that_fit_no_state_of_the_site_files_dock_make_every_number_less_sure()
    {
        var sound = new TestDock().Run(TimeSpan.FromSeconds(11)).Last.Picture.Estimate;
        Assert.Equal(6, sound.Fit.Degrees);
        Assert.True(sound.Fit is { Chance: > 0.9, Widening: 1 });
        var dock = new TestDock();
        foreach (var (name, volts) in new[] { ("B1", 119.0), ("B2", 114), ("B3", 106.5) })
            dock.Say(name, volts, volts, ("A", Leg.L1, 12), ("B", Leg.L2, 12));
        var wrong = dock.Run(TimeSpan.FromSeconds(11)).Last.Picture.Estimate;
        Assert.True(wrong.Fit is { Chance: < 0.001, Widening: > 1.5 }, $"{wrong.Fit} {wrong.Fit.Chance} {string.Join(", ", wrong.Doubtful)}");
        Assert.Empty(wrong.Doubtful);
        var told = new MeterDoubtful().Judge(dock.Last.Picture).Single(one => one.Margin > 0);
        Assert.Equal(("B", null), (told.Place.Dock, told.Place.Pedestal));
        Assert.StartsWith("The meters of dock B together fit no state of the dock", told.Describe().Message, StringComparison.Ordinal);
        Assert.True(wrong.Pedestals["B1"].VoltsSd[Leg.L1] > 1.5 * sound.Pedestals["B1"].VoltsSd[Leg.L1]);
    }

    [Fact]
    public void Deviations_widen_by_the_root_of_what_is_too_much_and_not_before_it_is_rare()
    {
        Assert.Equal(Math.Sqrt(10), new DockFit(60, 6).Widening, 1e-12);
        Assert.Equal(1, new DockFit(22.4, 6).Widening); // chi-square table, 6 degrees: 22.458 once in a thousand
        Assert.Equal(Math.Sqrt(22.5 / 6), new DockFit(22.5, 6).Widening, 1e-12);
    }

    [Fact]
    public void One_meter_that_is_off_does_not_move_the_dock()
    {
        var dock = new TestDock().Run(TimeSpan.FromSeconds(11));
        var before = dock.Last.Picture.Estimate.Pedestals["B1"].Volts[Leg.L1];
        dock.Say("B3", 112, 120).Run(TimeSpan.FromSeconds(11));
        Assert.Equal(before, dock.Last.Picture.Estimate.Pedestals["B1"].Volts[Leg.L1], 0.05);
        Assert.Equal(before, dock.Last.Picture.Estimate.Pedestals["B3"].Volts[Leg.L1], 0.05);
    }

    [Fact]
    public void Late_and_repeated_readings_change_nothing()
    {
        var quiet = new TestDock().Say("B3", 116, 121, ("A", Leg.L1, 25)).Run(TimeSpan.FromSeconds(30));
        var noisy = new TestDock().Say("B3", 116, 121, ("A", Leg.L1, 25)).Run(TimeSpan.FromSeconds(21));
        noisy.Hear(TestDock.Reading("B3", 90, 90, ("A", Leg.L1, 1)) with { Time = TestDock.Start.AddSeconds(5) });
        noisy.Hear(noisy.Says["B3"] with { Time = TestDock.Start.AddSeconds(20) }).Run(TimeSpan.FromSeconds(9));
        Assert.Equal(quiet.Last.Picture.Estimate.Pedestals["B3"], noisy.Last.Picture.Estimate.Pedestals["B3"]);
    }

    /// <summary>A feeder in the sun at load is not at 75 °C, nor at 20 °C.</summary>
    [Fact]
    public void Heat_of_the_day_and_of_the_load_raises_the_conductor_and_its_drop()
    {
        var cool = Warm(celsius: 15, amps: 10);
        var hot = Warm(celsius: 38, amps: 28);
        Assert.Equal(15 + 10 * Math.Sin(Math.PI * (15 - 6) / 12), cool.RacewayCelsius, 0.02); // 18:00 UTC is 15:00 in Halifax
        Assert.InRange(hot.Cables["B3"].ConductorCelsius, hot.RacewayCelsius, (double)TemperatureRating.C75);
        double PerAmp(DockEstimate estimate) => estimate.Cables["B3"].DropVolts[Leg.L1] / estimate.Cables["B3"].Amps[Leg.L1];
        var rise = hot.Cables["B3"].ConductorCelsius - cool.Cables["B3"].ConductorCelsius;
        Assert.Equal(1 + 0.0036 * rise, PerAmp(hot) / PerAmp(cool), 0.01); // aluminium gains about 0.36 % per kelvin there
    }

    [Fact]
    public void Watts_where_sent_set_the_angle_of_the_amps()
    {
        double FarVolts(double watts)
        {
            var dock = new TestDock();
            var reading = TestDock.Reading("B3", 117, 120, ("A", Leg.L1, 25));
            dock.Says["B3"] = reading with
            {
                Outlets = reading.Outlets.ToDictionary(o => o.Key, o => o.Value with { Watts = new PerLeg(watts, double.NaN, double.NaN) }),
            };
            dock.Run(TimeSpan.FromSeconds(5));
            return dock.Last.Picture.Estimate.Cables["B3"].DropVolts[Leg.L1];
        }
        Assert.Equal(FarVolts(25 * 117), FarVolts(0.5 * 25 * 117), 0.01); // the drop along a conductor is |Z·I| at any angle
    }

    static DockEstimate Warm(double celsius, double amps)
    {
        var dock = new TestDock().Hear(new Weather(TestDock.Start, celsius, null, []));
        return dock.Say("B3", 116, 121, ("A", Leg.L1, amps)).Run(TimeSpan.FromSeconds(11)).Last.Picture.Estimate;
    }

    static LoadSet Loads(Feeder feeder, double[] amps)
    {
        var loads = new LoadSet(feeder);
        for (var at = 0; at < 6; at++)
            loads.Add($"B{1 + at / 2}", Leg.L1 + at % 2, ZipLoad.ConstantCurrent(amps[at], TestDock.Site.Limits.PowerFactor, 120));
        return loads;
    }
}
