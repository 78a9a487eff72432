using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>Each kind of alarm is raised by what it is about, and by nothing less.</summary>
public class RuleTests
{
    readonly TestDock dock = new();

    [Fact]
    public void A_quiet_dock_raises_nothing()
    {
        dock.Run(TimeSpan.FromHours(1));
        Assert.Empty(dock.Transitions);
    }

    /// <summary>ANSI C84.1 utilization on a 120 V base: A 108 to 126, B 104 to 127 (104 and 127 confirmed, the others from memory).</summary>
    [Theory]
    [InlineData(108.1, null)]
    [InlineData(107.9, Priority.Low)]
    [InlineData(104.1, Priority.Low)]
    [InlineData(103.9, Priority.High)]
    public void Low_volts_are_told_by_the_band_they_have_left(double volts, Priority? expected) =>
        Assert.Equal(expected, Only(AlarmKind.Undervoltage, volts)?.Alarm.Priority);

    [Theory]
    [InlineData(125.9, null)]
    [InlineData(126.1, Priority.Low)]
    [InlineData(127.1, Priority.High)]
    public void High_volts_too(double volts, Priority? expected) =>
        Assert.Equal(expected, Only(AlarmKind.Overvoltage, volts)?.Alarm.Priority);

    [Fact]
    public void No_volts_where_a_boat_was_drawing_is_a_lost_supply_and_not_low_volts()
    {
        dock.Say("B3", 118, 120, ("A", Leg.L1, 12)).Run(TimeSpan.FromMinutes(1));
        dock.Say("B3", 0.4, 120).Run(TimeSpan.FromMinutes(5));
        var lost = Assert.Single(dock.Of(AlarmKind.SupplyLost));
        Assert.Equal("B.B3.A.supply-lost", lost.Alarm.Id); // outlet B, on the other leg, had no boat drawing
        Assert.Empty(dock.Of(AlarmKind.Undervoltage));
    }

    [Fact]
    public void An_open_outlet_where_no_boat_was_drawing_is_nothing()
    {
        Open("B3");
        dock.Run(TimeSpan.FromMinutes(5));
        Assert.Empty(dock.Of(AlarmKind.SupplyLost));
    }

    [Fact]
    public void A_supply_lost_returns_when_the_boat_is_known_to_have_left()
    {
        dock.Say("B3", 118, 120, ("A", Leg.L1, 12)).Run(TimeSpan.FromMinutes(1));
        Open("B3");
        dock.Run(TimeSpan.FromMinutes(1));
        Assert.Single(dock.Of(AlarmKind.SupplyLost));
        dock.Hear(new BoatNotice(dock.Now, "S3", false)).Run(TimeSpan.FromMinutes(2));
        Assert.Equal(AlarmState.ReturnedUnacknowledged, dock.Of(AlarmKind.SupplyLost).Last().Alarm.State);
    }

    [Fact]
    public void A_boat_known_to_be_there_that_draws_nothing_is_told_after_a_while()
    {
        dock.Hear(new BoatNotice(dock.Now, "S1", true)).Run(TimeSpan.FromMinutes(19));
        Assert.Empty(dock.Of(AlarmKind.NoDraw));
        dock.Run(TimeSpan.FromMinutes(2));
        Assert.Equal("S1", Assert.Single(dock.Of(AlarmKind.NoDraw)).Alarm.Place.Slip);
    }

    [Fact]
    public void One_cord_of_two_in_use_is_drawing()
    {
        dock.Say("B1", 120, 120, ("B", Leg.L2, 6)).Hear(new BoatNotice(dock.Now, "S1", true)).Run(TimeSpan.FromHours(1));
        Assert.Empty(dock.Of(AlarmKind.NoDraw));
    }

    [Fact]
    public void A_silent_meter_is_told_after_its_time_and_its_amps_are_held()
    {
        dock.Say("B3", 116, 120, ("A", Leg.L1, 20)).Run(TimeSpan.FromMinutes(1));
        dock.Says.Remove("B3");
        dock.Run(TimeSpan.FromMinutes(3));
        Assert.Equal("B.B3.meter-silent", Assert.Single(dock.Of(AlarmKind.MeterSilent)).Alarm.Id);
        Assert.Contains(dock.Last.Picture.Outlets, outlet => outlet is { Pedestal: "B3", Outlet.Name: "A", Amps: 20 });
    }

    [Fact]
    public void A_meter_whose_volts_do_not_fit_the_others_is_told_after_its_time_and_what_it_should_read()
    {
        dock.Say("B2", 125, 120).Run(TimeSpan.FromMinutes(4));
        Assert.Empty(dock.Of(AlarmKind.MeterDoubtful));
        dock.Run(TimeSpan.FromMinutes(2));
        var alarm = Assert.Single(dock.Of(AlarmKind.MeterDoubtful)).Alarm;
        Assert.Equal("B.B2.meter-doubtful", alarm.Id);
        Assert.Contains("reads 125.0 V on L1; by all the other meters it is 120.", alarm.Message);
        dock.Say("B2", 120, 120).Run(TimeSpan.FromMinutes(12));
        Assert.Equal(2, dock.Of(AlarmKind.MeterDoubtful).Count());
    }

    [Fact]
    public void A_last_will_is_believed_at_once()
    {
        dock.Run(TimeSpan.FromMinutes(1)).Hear(new LinkNotice(dock.Now, "B2", false)).Run(TimeSpan.FromSeconds(1));
        Assert.Equal("B.B2.meter-silent", Assert.Single(dock.Of(AlarmKind.MeterSilent)).Alarm.Id);
    }

    [Fact]
    public void Nothing_is_judged_before_every_pedestal_was_heard_or_given_up()
    {
        dock.Says.Remove("B1");
        dock.Say("B3", 100, 120, ("A", Leg.L1, 29)).Run(TimeSpan.FromSeconds(89));
        Assert.Empty(dock.Transitions);
        dock.Run(TimeSpan.FromSeconds(70));
        Assert.NotEmpty(dock.Of(AlarmKind.Overload));
        Assert.Single(dock.Of(AlarmKind.MeterSilent));
    }

    /// <summary>1/0 aluminium, NEC table 310.16, 75 °C: 120 A at 30 °C; at 40 °C in the raceway 0.88 of that.</summary>
    [Fact]
    public void A_cable_past_its_ampacity_is_told_and_the_neutral_counts_too()
    {
        dock.Says["B3"] = Everything("B3", 110); // the site allows it: what counts is the cable, not the outlets' ratings
        dock.Run(TimeSpan.FromMinutes(15));
        var over = dock.Of(AlarmKind.CableOverload).Select(t => t.Alarm.Id).ToList();
        Assert.Contains("B.B3.cable-overload", over);
        Assert.Equal(110 / (120 * Math.Sqrt(35.0 / 45)), dock.Last.Picture.Estimate.Cables["B3"].Load, 0.005);
        Assert.DoesNotContain("B.B1.cable-overload", over); // 4/0 carries 180 A
    }

    /// <summary>50 kVA is 208 A on each leg at 240 V; 225 A is 54 kVA at 120 V, past the rating, and past 80 % of the 225 A breaker.</summary>
    [Fact]
    public void A_transformer_past_its_rating_and_a_feeder_breaker_past_its_limit_are_told()
    {
        dock.Says["B1"] = Everything("B1", 225);
        dock.Run(TimeSpan.FromMinutes(20));
        Assert.Equal("B.transformer-overload", Assert.Single(dock.Of(AlarmKind.TransformerOverload)).Alarm.Id);
        Assert.Contains(dock.Of(AlarmKind.CableOverload), t => t.Alarm.Id == "B.feeder-breaker.cable-overload");
        Assert.InRange(dock.Last.Picture.Estimate.SourceKilovoltAmperes, 52, 58);
    }

    [Fact]
    public void One_leg_far_above_the_mean_is_told_with_the_neutrals_amps()
    {
        dock.Say("B1", 119, 120, ("A", Leg.L1, 22)).Say("B2", 118, 120, ("A", Leg.L1, 23), ("B", Leg.L2, 20)).Run(TimeSpan.FromMinutes(16));
        var told = Assert.Single(dock.Of(AlarmKind.LegImbalance)).Alarm;
        Assert.Equal("B.leg-imbalance", told.Id);
        Assert.Equal(25, (double)told.Evidence["neutral"]!, 0.2);
        Assert.Contains("L1", told.Message);
    }

    AlarmTransition? Only(AlarmKind kind, double volts)
    {
        dock.Say("B2", 120, volts).Run(TimeSpan.FromMinutes(2));
        Assert.All(dock.Transitions, transition => Assert.Equal(kind, transition.Alarm.Kind));
        return dock.Transitions.SingleOrDefault();
    }

    void Open(string pedestal) => dock.Says[pedestal] = dock.Says[pedestal] with
    {
        Outlets = TestDock.Reading(pedestal, 120, 120).Outlets.ToDictionary(pair => pair.Key, pair => pair.Value with { Closed = false }),
    };

    static Reading Everything(string pedestal, double amps) =>
        TestDock.Reading(pedestal, 118, 118, ("A", Leg.L1, amps), ("B", Leg.L2, amps));
}
