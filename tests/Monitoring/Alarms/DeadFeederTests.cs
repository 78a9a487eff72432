using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>A dead feeder is one alarm, not forty. Twelve pedestals in a row, a boat on each of their outlets.</summary>
public class DeadFeederTests
{
    readonly LongDock dock = new();

    [Fact]
    public void A_feeder_dead_from_a_cable_outwards_is_one_alarm_that_names_the_cable()
    {
        dock.Run(120).Volts(0.3, 0.2, first: 6).Run(300);

        var alarm = Assert.Single(dock.Raised).Alarm;
        Assert.Equal(("D.D6.supply-lost", Priority.High, "D6"), (alarm.Id, alarm.Priority, alarm.Place.Cable));
        Assert.Contains("from D6 outwards, has no volts on L1, L2, at all 7 pedestals; 14 outlets were in use", alarm.Message);
        Assert.Contains("licensed electrician looks at the cable from D5 to D6", alarm.Message);
        Assert.InRange((dock.Raised.Single().At - TestDock.Start).TotalSeconds, 130, 145);
        Assert.Equal(14, dock.Suppressed.Count(one => one.Kind == AlarmKind.SupplyLost));
        Assert.All(dock.Suppressed, one => Assert.Equal("D.D6.supply-lost", one.SuppressedBy));
        Assert.All(dock.Transitions.Where(step => step.Alarm.State == AlarmState.Suppressed),
            step => Assert.Equal("it is a consequence of D.D6.supply-lost", step.Reason));
    }

    [Fact]
    public void One_leg_that_is_lost_is_one_alarm_too()
    {
        dock.Run(120).Volts(120, 1, first: 1).Run(300);
        var alarm = Assert.Single(dock.Raised).Alarm;
        Assert.Equal("D.D1.supply-lost", alarm.Id);
        Assert.Contains("from the source on, has no volts on L2,", alarm.Message);
    }

    [Fact]
    public void Meters_that_die_with_their_feeder_are_one_alarm_that_says_probably()
    {
        dock.Run(120).Speak(false, first: 1).Run(600);
        var alarm = Assert.Single(dock.Raised).Alarm;
        Assert.Equal(("D.D1.supply-lost", Priority.Medium), (alarm.Id, alarm.Priority));
        Assert.Contains("is silent: all 12 pedestals stopped together, so the feeder is probably dead there, or their network is", alarm.Message);
        Assert.False(alarm.For.HasFlag(Audience.Boater));
        Assert.Equal(12, dock.Suppressed.Count(one => one.Kind == AlarmKind.MeterSilent));
    }

    [Fact]
    public void A_last_gasp_makes_it_known_and_it_stays_so_in_silence()
    {
        dock.Run(120).Volts(0, 0, first: 4).Run(10).Speak(false, first: 4).Run(900);
        Assert.Equal("D.D4.supply-lost", Assert.Single(dock.Raised).Alarm.Id);
        Assert.Equal(["D.D4.supply-lost"], dock.Standing);
        Assert.Equal(Priority.High, dock.Last.Standing.Single(alarm => alarm.State.IsActive()).Priority);
    }

    [Fact]
    public void When_it_lives_again_the_consequences_are_over_with_it()
    {
        dock.Run(120).Volts(0.3, 0.2, first: 6).Run(300).Volts(120, 120, first: 6).Run(180);
        Assert.Equal("D.D6.supply-lost", Assert.Single(dock.Raised).Alarm.Id);
        Assert.Empty(dock.Standing);
        Assert.Empty(dock.Suppressed);
        Assert.Equal("D.D6.supply-lost", Assert.Single(dock.Last.Standing).Id); // over, and nobody has seen it
    }

    [Fact]
    public void Meters_may_take_a_minute_to_start_again()
    {
        dock.Run(120).Speak(false, first: 1).Run(600);
        for (var i = 1; i <= LongDock.Pedestals; i++)
            dock.Speak(true, i, i).Run(5);
        dock.Run(300);
        Assert.Single(dock.Raised);
        Assert.Empty(dock.Suppressed);
    }

    [Fact]
    public void What_is_still_wrong_when_the_feeder_lives_again_comes_back_as_it_is()
    {
        dock.Run(120).Volts(0.3, 0.2, first: 6).Run(300).Volts(120, 120, first: 6).Volts(120, 0.2, 9, 9).Run(180);
        Assert.Equal(["D.D6.supply-lost", "D.D9.B.supply-lost"], dock.Raised.Select(one => one.Alarm.Id));
        Assert.Equal(["D.D9.B.supply-lost"], dock.Standing);
    }

    [Fact]
    public void When_only_a_part_comes_back_the_rest_is_one_alarm_further_out()
    {
        dock.Run(120).Volts(0.3, 0.2, first: 4).Run(300).Volts(120, 120, 4, 7).Run(300);
        Assert.Equal(["D.D4.supply-lost", "D.D8.supply-lost"], dock.Raised.Select(one => one.Alarm.Id));
        Assert.Equal(["D.D8.supply-lost"], dock.Standing);
    }

    [Fact]
    public void A_loss_that_moves_inwards_is_told_again_and_takes_the_first_into_itself()
    {
        dock.Run(120).Volts(0, 0, first: 10).Run(300).Volts(0, 0, first: 2).Run(300);
        Assert.Equal(["D.D10.supply-lost", "D.D2.supply-lost"], dock.Raised.Select(one => one.Alarm.Id));
        Assert.Equal(["D.D2.supply-lost"], dock.Standing);
    }

    [Fact]
    public void One_pedestal_alone_has_its_own_alarms_and_two_silent_meters_far_apart_in_time_have_theirs()
    {
        dock.Run(120).Volts(0, 0, 7, 7).Run(120);
        Assert.Equal(["D.D7.A.supply-lost", "D.D7.B.supply-lost"], dock.Raised.Select(one => one.Alarm.Id));
        dock.Volts(120, 120, 7, 7).Speak(false, 12, 12).Run(600).Speak(false, 11, 11).Run(600);
        Assert.Equal(["D.D12.meter-silent", "D.D11.meter-silent"], dock.Raised.Skip(2).Select(one => one.Alarm.Id));
    }

    [Fact]
    public void Two_dead_outlets_at_two_pedestals_with_a_live_one_between_are_no_dead_feeder()
    {
        dock.Run(120).Volts(0, 120, 3, 3).Volts(0, 120, 8, 8).Run(120);
        Assert.Equal(["D.D3.A.supply-lost", "D.D8.A.supply-lost"], dock.Raised.Select(one => one.Alarm.Id).Order());
    }

    [Fact]
    public void Last_wills_that_come_one_after_another_bring_one_meters_alarm_at_most_before_the_feeders()
    {
        dock.Run(120).Speak(false, first: 1).Run(15);
        for (var i = 1; i <= LongDock.Pedestals; i++)
            dock.Hear(new LinkNotice(dock.Now, $"D{i}", false)).Run(1);
        dock.Run(300);
        Assert.Equal(["D.D1.meter-silent", "D.D1.supply-lost"], dock.Raised.Select(one => one.Alarm.Id));
        Assert.Equal(["D.D1.supply-lost"], dock.Standing);
    }

    [Fact]
    public void A_hazard_is_never_anybodys_consequence() => Assert.All(
        Suppression.Relations.SelectMany(relation => relation.Beyond.Concat(relation.OnDock)),
        kind => Assert.DoesNotContain(kind, new[]
            { AlarmKind.OpenNeutral, AlarmKind.Leakage, AlarmKind.StalledMotor, AlarmKind.Overload, AlarmKind.CableOverload, AlarmKind.ResistiveJoint }));

    /// <summary>Legs divide 240 V by their loads: 90 V and 150 V (Ohm's law; own case).</summary>
    [Fact]
    public void High_and_low_volts_beyond_an_open_neutral_are_its_consequences()
    {
        dock.Run(120).Volts(90, 150, first: 7).Run(400);
        Assert.Equal("D.open-neutral", Assert.Single(dock.Raised.DistinctBy(one => one.Alarm.Id)).Alarm.Id);
        Assert.Equal(12, dock.Suppressed.Count(one => one.Kind is AlarmKind.Undervoltage or AlarmKind.Overvoltage));
        Assert.All(dock.Suppressed, one => Assert.Equal("D.open-neutral", one.SuppressedBy));
    }
}
