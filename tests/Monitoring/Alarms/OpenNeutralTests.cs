using CsCheck;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Estimate;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>On a dock of three pedestals in a row: B1, B2, B3.</summary>
public class OpenNeutralTests
{
    static readonly string[] Pedestals = ["B1", "B2", "B3"];

    readonly TestDock dock = new();

    /// <summary>Legs divide 240 V by their loads: 3 ohm and 5 ohm get 90 V and 150 V, 30 A each (Ohm's law; own case).</summary>
    [Fact]
    public void An_open_neutral_is_raised_at_the_first_reading_on_its_cable()
    {
        dock.Run(TimeSpan.FromMinutes(1));
        Assert.Empty(dock.Of(AlarmKind.OpenNeutral));
        dock.Say("B3", 90, 150, ("A", Leg.L1, 30), ("B", Leg.L2, 30)).Run(TimeSpan.FromSeconds(10));
        var raised = Assert.Single(dock.Of(AlarmKind.OpenNeutral));
        Assert.Equal(TestDock.Start.AddMinutes(1), raised.At);
        Assert.Equal(("B.open-neutral", Priority.High, Audience.Everybody), (raised.Alarm.Id, raised.Alarm.Priority, raised.Alarm.For));
        Assert.Equal("""["B2","B3"]""", raised.Alarm.Evidence["cable"]!.ToJsonString());
        Assert.Equal(30, (double)raised.Alarm.Evidence["shift"]!, 0.5);
        Assert.True((bool)raised.Alarm.Evidence["open"]!);
        Assert.Contains("L1 90 V, L2 150 V", raised.Alarm.Message);
        Assert.Contains("licensed electrician", raised.Alarm.Message);
        Assert.Contains("do not open it live", raised.Alarm.Message);
    }

    [Fact]
    public void The_cable_nearest_the_source_is_named_when_every_pedestal_shifts()
    {
        dock.Run(TimeSpan.FromMinutes(1));
        foreach (var pedestal in Pedestals)
            dock.Say(pedestal, 95, 145);
        dock.Say("B2", 95, 145, ("A", Leg.L1, 30), ("B", Leg.L2, 30)).Run(TimeSpan.FromSeconds(1));
        Assert.Equal("""["source","B1"]""", Cable(Assert.Single(dock.Of(AlarmKind.OpenNeutral)).Alarm));
    }

    /// <summary>Only B3 has spoken since it broke: the innermost cable that fits. Then B1 and B2 say that they stand well.</summary>
    [Fact]
    public void It_is_raised_again_when_later_readings_put_it_further_out()
    {
        dock.Run(TimeSpan.FromMinutes(1));
        dock.Run(TimeSpan.FromSeconds(4));
        dock.Hear(TestDock.Reading("B3", 90, 150, ("A", Leg.L1, 30), ("B", Leg.L2, 30)) with { Time = dock.Now }).Run(TimeSpan.FromSeconds(1));
        dock.Say("B3", 90, 150, ("A", Leg.L1, 30), ("B", Leg.L2, 30)).Run(TimeSpan.FromMinutes(1));
        Assert.Equal(["""["source","B1"]""", """["B2","B3"]"""], dock.Of(AlarmKind.OpenNeutral).Select(raised => Cable(raised.Alarm)));
        Assert.Equal(dock.Of(AlarmKind.OpenNeutral).First().Alarm.Since, dock.Of(AlarmKind.OpenNeutral).Last().Alarm.Since);
    }

    /// <summary>The shift that it was raised on was gone before all had spoken; it comes back after an hour, and now all tell where.</summary>
    [Theory]
    [InlineData("B1", "B3")]
    [InlineData("B3", "B1")]
    public void One_that_stands_on_a_wrong_cable_is_raised_again_once_when_two_rounds_point_to_another(string first, string then)
    {
        dock.Run(TimeSpan.FromMinutes(1));
        Shift(first).Run(TimeSpan.FromSeconds(5));
        Shift().Run(TimeSpan.FromMinutes(8));
        Shift(then).Run(TimeSpan.FromSeconds(15));
        Assert.Equal([first], dock.Of(AlarmKind.OpenNeutral).Select(raised => (string)raised.Alarm.Evidence["cable"]![1]!));
        dock.Run(TimeSpan.FromMinutes(5));
        Assert.Equal([first, then], dock.Of(AlarmKind.OpenNeutral).Select(raised => (string)raised.Alarm.Evidence["cable"]![1]!));
        var last = dock.Of(AlarmKind.OpenNeutral).Last();
        Assert.Equal((TestDock.Start.AddMinutes(1), AlarmState.Unacknowledged), (last.Alarm.Since, last.Alarm.State));
        Assert.Equal("it is located elsewhere", last.Reason);
    }

    /// <summary>Two bad neutrals of which now one explains more, now the other.</summary>
    [Fact]
    public void One_that_goes_from_place_to_place_is_raised_three_times_an_hour_at_most()
    {
        dock.Run(TimeSpan.FromMinutes(1));
        for (var turn = 0; turn < 14; turn++)
            Shift(turn % 2 == 0 ? "B1" : "B3").Run(TimeSpan.FromMinutes(4));
        var raised = dock.Of(AlarmKind.OpenNeutral).ToList();
        Assert.Equal(["B1", "B3", "B1"], raised.Select(one => (string)one.Alarm.Evidence["cable"]![1]!));
        Assert.All(raised, transition => Assert.Equal(AlarmState.Unacknowledged, transition.Alarm.State));
    }

    [Fact]
    public void A_resistance_too_much_is_found_on_its_cable_with_its_ohms_and_watts() =>
        Gen.Select(Gen.OneOf([.. Pedestals.Select(Gen.Const)]), Gen.Double[0.4, 3], Gen.Double[0, 24], Gen.Double[0, 24], Gen.Double[0, 24], Gen.Double[0, 24])
            .Where((cable, ohms, a1, b1, a3, b3) => Math.Abs(NeutralAmps(cable, a1, b1, a3, b3) * ohms) is > 6 and < 30)
            .Sample((cable, ohms, a1, b1, a3, b3) =>
            {
                var other = new TestDock();
                Tell(other, cable, ohms, a1, b1, a3, b3);
                other.Run(TimeSpan.FromSeconds(11));
                var alarm = Assert.Single(other.Of(AlarmKind.OpenNeutral)).Alarm;
                Assert.Equal(cable, (string)alarm.Evidence["cable"]![1]!);
                var (milliohms, sd) = ((double)alarm.Evidence["milliohms"]!, (double)alarm.Evidence["milliohms-sd"]!);
                Assert.InRange(milliohms, 1000 * ohms - 3 * sd - 1, 1000 * ohms + 3 * sd + 1);
                var neutralAmps = NeutralAmps(cable, a1, b1, a3, b3);
                Assert.Equal(ohms * neutralAmps * neutralAmps, (double)alarm.Evidence["watts"]!, 3 * (double)alarm.Evidence["watts-sd"]! + 1);
            }, iter: 200);

    [Fact]
    public void Legs_that_are_unequal_through_a_healthy_neutral_raise_nothing() =>
        Gen.Select(Gen.Double[0, 45], Gen.Double[0, 45], Gen.Double[0, 45], Gen.Double[0, 45]).Sample((a1, b1, a3, b3) =>
        {
            var other = new TestDock();
            Tell(other, "B1", 0, a1, b1, a3, b3);
            other.Run(TimeSpan.FromSeconds(31));
            Assert.Empty(other.Of(AlarmKind.OpenNeutral));
        }, iter: 200);

    /// <summary>It shifts the legs by 9 V all the same: a joint, for the search for bad joints.</summary>
    [Fact]
    public void Some_tens_of_milliohms_under_hundreds_of_amps_are_no_open_neutral()
    {
        Tell(dock, "B1", 0.045, 100, 0, 100, 0);
        dock.Run(TimeSpan.FromSeconds(31));
        Assert.Empty(dock.Of(AlarmKind.OpenNeutral));
    }

    /// <summary>B3 misses its turns, so that its amps might be fewer and the ohms more: a small shift must look like a failing neutral all the same.</summary>
    [Fact]
    public void A_small_shift_of_few_ohms_is_no_open_neutral_because_amps_are_in_doubt()
    {
        Tell(dock, "B2", 0.12, 0, 0, 45, 0);
        dock.Run(TimeSpan.FromSeconds(31)).Says.Remove("B3");
        dock.Run(TimeSpan.FromSeconds(40));
        Assert.Empty(dock.Of(AlarmKind.OpenNeutral));
    }

    [Theory]
    [InlineData(0.3, 120)] // a leg is gone
    [InlineData(108, 120)] // a meter is off on one leg, or that leg has a bad joint
    [InlineData(127, 127)] // both legs high: the supply, or a meter
    [InlineData(123.5, 116.6)] // each leg by less than 4 V
    public void What_is_not_a_neutral_raises_none(double volts1, double volts2)
    {
        dock.Run(TimeSpan.FromMinutes(1)).Say("B3", volts1, volts2).Run(TimeSpan.FromMinutes(1));
        Assert.Empty(dock.Of(AlarmKind.OpenNeutral));
    }

    [Fact]
    public void A_small_shift_must_stand_for_two_readings()
    {
        dock.Run(TimeSpan.FromMinutes(1)).Say("B3", 113, 127).Run(TimeSpan.FromSeconds(10));
        Assert.Empty(dock.Of(AlarmKind.OpenNeutral));
        dock.Run(TimeSpan.FromSeconds(1));
        Assert.Single(dock.Of(AlarmKind.OpenNeutral));
    }

    /// <summary>Loads that start together on L1 lower the mean of the legs, as a neutral does not. The first reading is at 60 s, the second at 70 s.</summary>
    [Theory]
    [InlineData(105, 135, 60)]
    [InlineData(100, 130, 70)]
    public void A_shift_with_which_the_mean_of_the_legs_falls_must_stand_for_two_readings(double volts1, double volts2, int raisedAtSeconds)
    {
        dock.Run(TimeSpan.FromMinutes(1));
        foreach (var pedestal in Pedestals)
            dock.Say(pedestal, volts1, volts2);
        dock.Run(TimeSpan.FromSeconds(20));
        Assert.Equal(TestDock.Start.AddSeconds(raisedAtSeconds), Assert.Single(dock.Of(AlarmKind.OpenNeutral)).At);
    }

    [Fact]
    public void A_small_shift_that_the_next_reading_explains_raises_none()
    {
        dock.Run(TimeSpan.FromMinutes(1)).Say("B3", 113, 127).Run(TimeSpan.FromSeconds(10));
        dock.Say("B3", 120, 120).Run(TimeSpan.FromMinutes(1));
        Assert.Empty(dock.Of(AlarmKind.OpenNeutral));
    }

    [Fact]
    public void It_stays_for_a_while_when_the_legs_balance()
    {
        dock.Run(TimeSpan.FromMinutes(1)).Say("B3", 100, 140).Run(TimeSpan.FromSeconds(10));
        dock.Say("B3", 120, 120).Run(TimeSpan.FromMinutes(9));
        Assert.Equal(AlarmState.Unacknowledged, Assert.Single(dock.Of(AlarmKind.OpenNeutral)).Alarm.State);
        dock.Run(TimeSpan.FromMinutes(2));
        Assert.Equal(AlarmState.ReturnedUnacknowledged, dock.Of(AlarmKind.OpenNeutral).Last().Alarm.State);
    }

    /// <summary>The legs from one pedestal outwards say 100 and 140 V; none given: no leg has moved.</summary>
    TestDock Shift(string? from = null)
    {
        foreach (var pedestal in Pedestals)
            if (from != null && string.CompareOrdinal(pedestal, from) >= 0)
                dock.Say(pedestal, 100, 140, ("A", Leg.L1, 20));
            else
                dock.Say(pedestal, 120, 120);
        return dock;
    }

    static string Cable(Alarm alarm) => alarm.Evidence["cable"]!.ToJsonString();

    /// <summary>Loads on B1 and B3 only; all at power factor 0.95, so that the amps of one leg add up.</summary>
    static double NeutralAmps(string cable, double a1, double b1, double a3, double b3) =>
        a3 - b3 + (cable == "B1" ? a1 - b1 : 0);

    /// <summary>Lets the pedestals say what a load flow with that much resistance in one neutral gives, to 0.01 V.</summary>
    static void Tell(TestDock dock, string cable, double ohms, double a1, double b1, double a3, double b3)
    {
        var site = TestDock.Site;
        var healthy = DockFeeder.Build(site, dock.Definition, DockFeeder.Equal(site.Supply, 121), _ => (40, 40));
        var excess = ImpedanceMatrix.Separate(site.Supply, 0, ohms);
        var feeder = new Feeder(site.Supply, DockFeeder.OpenCircuit, DockFeeder.Equal(site.Supply, 121), healthy.Branches.Select(branch =>
            branch.To == cable ? branch with { Impedance = branch.Impedance + excess } : branch));
        var loads = new LoadSet(feeder);
        foreach (var (bus, leg, amps) in new[] { ("B1", Leg.L1, a1), ("B1", Leg.L2, b1), ("B3", Leg.L1, a3), ("B3", Leg.L2, b3) })
            loads.Add(bus, leg, ZipLoad.ConstantCurrent(amps, site.Limits.PowerFactor, 120));
        var state = Sweep.Solve(loads).State;
        double Volts(string bus, Leg leg) => Math.Round(state.VoltsAt(bus, leg).Magnitude, 2);
        foreach (var bus in Pedestals)
            dock.Say(bus, Volts(bus, Leg.L1), Volts(bus, Leg.L2));
        dock.Say("B1", Volts("B1", Leg.L1), Volts("B1", Leg.L2), ("A", Leg.L1, a1), ("B", Leg.L2, b1));
        dock.Say("B3", Volts("B3", Leg.L1), Volts("B3", Leg.L2), ("A", Leg.L1, a3), ("B", Leg.L2, b3));
    }
}
