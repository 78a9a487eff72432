using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>
/// On a 30 A outlet: 24 A for hours, raised after 60 s, back below 22.8 A (5 %) for 30 s. A change counts from its second reading, 10 s
/// after the first.
/// </summary>
public class DelaysAndDeadband
{
    readonly TestDock dock = new();

    [Fact]
    public void An_overload_is_raised_after_its_delay_and_not_before()
    {
        Draw(25, seconds: 59);
        Assert.Empty(dock.Of(AlarmKind.Overload));
        Draw(25, seconds: 20);
        var raised = Assert.Single(dock.Of(AlarmKind.Overload));
        Assert.Equal(TestDock.Start.AddSeconds(60), raised.At);
        Assert.Equal((AlarmState.Normal, AlarmState.Unacknowledged), (raised.From, raised.Alarm.State));
        Assert.Equal("B.B3.A.overload", raised.Alarm.Id);
        Assert.Equal("S3", raised.Alarm.Place.Slip);
        Assert.Equal(Priority.Medium, raised.Alarm.Priority);
    }

    [Fact]
    public void A_pause_starts_the_delay_again()
    {
        Draw(25, seconds: 50);
        Draw(20, seconds: 20);
        Draw(25, seconds: 69);
        Assert.Empty(dock.Of(AlarmKind.Overload));
    }

    [Fact]
    public void Within_the_deadband_nothing_changes()
    {
        Draw(25, seconds: 70);
        Draw(23, seconds: 600);
        Assert.Single(dock.Of(AlarmKind.Overload));
        Draw(22.7, seconds: 50);
        var returned = dock.Of(AlarmKind.Overload).Last();
        Assert.Equal(AlarmState.ReturnedUnacknowledged, returned.Alarm.State);
        Assert.Equal(TestDock.Start.AddSeconds(70 + 600 + 10 + 30), returned.At);
    }

    [Fact]
    public void While_it_stands_its_words_are_those_of_the_last_full_minute_and_nobody_is_told_again()
    {
        Draw(25, seconds: 70);
        Assert.Contains("carries 25.0 A", Assert.Single(dock.Of(AlarmKind.Overload)).Alarm.Message, StringComparison.Ordinal);
        Draw(26, seconds: 120);
        var standing = Assert.Single(dock.Last.Standing, alarm => alarm.Kind == AlarmKind.Overload);
        Assert.Contains("carries 26.0 A", standing.Message, StringComparison.Ordinal);
        Assert.Equal((26, standing.Message), ((double)standing.Evidence["amps"]!, string.Join(' ', standing.Said)));
        Draw(23, seconds: 120);
        Assert.Equal(standing.Message, Assert.Single(dock.Last.Standing, alarm => alarm.Kind == AlarmKind.Overload).Message);
        Assert.Single(dock.Of(AlarmKind.Overload));
    }

    [Fact]
    public void So_much_that_its_breaker_may_open_is_raised_at_once_with_higher_priority()
    {
        Draw(20, seconds: 30);
        Draw(33.5, seconds: 20);
        var raised = Assert.Single(dock.Of(AlarmKind.Overload));
        Assert.Equal((Priority.High, TestDock.Start.AddSeconds(40)), (raised.Alarm.Priority, raised.At));
        Assert.Matches(@"breaker is rated 30 A and may open in \d+ to \d+ minutes \(the chance is about \d in 10 within the hour\)", raised.Alarm.Message);
        var minutes = raised.Alarm.Evidence["trips-in-minutes"]!.AsArray().Select(minute => (double)minute!).ToList();
        Assert.True(minutes.Count == 2 && minutes[0] <= minutes[1]);
        Assert.InRange((double)raised.Alarm.Evidence["chance-within-60-minutes"]!, (double)raised.Alarm.Evidence["chance-within-15-minutes"]!, 1);
    }

    [Fact]
    public void A_motors_start_in_one_reading_raises_nothing_and_a_locked_rotor_is_raised_with_its_second()
    {
        Draw(20, seconds: 60);
        Draw(95, seconds: 10);
        Draw(20, seconds: 120);
        Assert.Empty(dock.Of(AlarmKind.Overload));
        Draw(95, seconds: 11);
        var raised = Assert.Single(dock.Of(AlarmKind.Overload));
        Assert.Contains("may open any moment", raised.Alarm.Message);
    }

    [Fact]
    public void One_that_gets_worse_is_unacknowledged_again_with_its_first_moment_kept()
    {
        Draw(25, seconds: 70);
        dock.Hear(new Acknowledgement(dock.Now, "B.B3.A.overload", "Ines"));
        Draw(25, seconds: 10);
        Draw(33.5, seconds: 20);
        var steps = dock.Of(AlarmKind.Overload).Select(t => (t.Alarm.State, t.Alarm.Priority)).ToList();
        Assert.Equal(
            [(AlarmState.Unacknowledged, Priority.Medium), (AlarmState.Acknowledged, Priority.Medium), (AlarmState.Unacknowledged, Priority.High)],
            steps);
        Assert.Equal(TestDock.Start.AddSeconds(60), dock.Of(AlarmKind.Overload).Last().Alarm.Since);
    }

    [Fact]
    public void Acknowledged_and_returned_it_is_normal_and_no_longer_stands()
    {
        Draw(25, seconds: 70);
        dock.Hear(new Acknowledgement(dock.Now, "B.B3.A.overload", "Ines"));
        Draw(10, seconds: 60);
        Assert.Equal(AlarmState.Normal, dock.Of(AlarmKind.Overload).Last().Alarm.State);
        Assert.DoesNotContain(dock.Last.Standing, alarm => alarm.Kind == AlarmKind.Overload);
        Assert.Contains("Ines", dock.Of(AlarmKind.Overload).ElementAt(1).Reason);
    }

    [Fact]
    public void Acknowledging_what_does_not_stand_changes_nothing()
    {
        dock.Hear(new Acknowledgement(dock.Now, "B.B3.A.overload", "Ines")).Run(TimeSpan.FromSeconds(5));
        Assert.Empty(dock.Transitions);
    }

    void Draw(double amps, int seconds) =>
        dock.Say("B3", 116, 120, ("A", Leg.L1, amps)).Run(TimeSpan.FromSeconds(seconds));
}
