using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>First-up, floods and chatter. Twelve pedestals in a row; low volts are told after 60 s and over after 5 min.</summary>
public class BurstsTests
{
    readonly LongDock dock = new();

    [Fact]
    public void The_first_of_a_burst_is_named_by_all_that_follow_and_a_minute_of_quiet_ends_it()
    {
        dock.Run(60).Volts(107, 107, 5, 5).Run(4).Volts(107, 107, 9, 9).Run(200).Volts(107, 107, 2, 2).Run(200);
        Assert.Equal(
            [("D.D5.undervoltage", "D.D5.undervoltage"), ("D.D9.undervoltage", "D.D5.undervoltage"), ("D.D2.undervoltage", "D.D2.undervoltage")],
            Raised.Select(one => (one.Alarm.Id, one.Alarm.FirstUp!)));
    }

    [Fact]
    public void In_a_flood_what_is_low_is_held_back_and_what_is_high_never()
    {
        dock.Run(60).Volts(107, 107, 1, 11).Run(100).Volts(107, 107, 12).Run(100);
        var raised = Raised.Select(one => one.Alarm).ToList();
        Assert.All(raised.Take(10), alarm => Assert.Equal(Audience.None, alarm.HeldBackFrom));
        Assert.All(raised.Skip(10), alarm => Assert.Equal(Audience.Electrician | Audience.Harbormaster, alarm.HeldBackFrom));
        Assert.Equal(12, raised.Count);
        Assert.Equal((12, Audience.Electrician | Audience.Harbormaster), (dock.Last.Flow.RaisedIn10Minutes, dock.Last.Flow.Flooded));

        dock.Volts(102, 102, 1, 1).Run(100);
        var worse = dock.Transitions.Last(one => one.Alarm.Kind == AlarmKind.Undervoltage);
        Assert.Equal((Priority.High, Audience.None), (worse.Alarm.Priority, worse.Alarm.HeldBackFrom));
    }

    [Fact]
    public void When_the_flood_is_over_what_was_held_back_is_told()
    {
        dock.Run(60).Volts(107, 107, 1, 12).Run(900);
        Assert.Equal((0, Audience.None), (dock.Last.Flow.RaisedIn10Minutes, dock.Last.Flow.Flooded));
        Assert.All(dock.Last.Standing, alarm => Assert.Equal(Audience.None, alarm.HeldBackFrom));
        Assert.Equal(2, dock.Transitions.Count(one => one.Reason == "the flood is over in which it was held back"));
        Assert.Equal(12, Raised.Count());
    }

    [Fact]
    public void An_alarm_that_comes_again_and_again_clears_slowly_from_the_third_time_on_and_says_so()
    {
        for (var time = 0; time < 6; time++)
            dock.Volts(107, 107, 12).Run(100).Volts(120, 120, 12).Run(400);
        var raised = Raised.ToList();
        Assert.Equal([0, 0, 3], raised.Select(one => one.Alarm.Chattering));
        Assert.Equal("the limit was passed, 3 times within an hour: it chatters, and clears more slowly now", raised[2].Reason);
        Assert.Equal(["D.D12.undervoltage"], Standing);

        dock.Run(20 * 60);
        Assert.Empty(Standing);
    }

    [Fact]
    public void After_a_quiet_hour_it_is_an_alarm_as_any_other()
    {
        for (var time = 0; time < 3; time++)
            dock.Volts(107, 107, 12).Run(100).Volts(120, 120, 12).Run(400);
        dock.Run(3600).Volts(107, 107, 12).Run(100);
        Assert.Equal(0, Raised.Last().Alarm.Chattering);
    }

    IEnumerable<AlarmTransition> Raised => dock.Raised.Where(one => one.Alarm.Kind == AlarmKind.Undervoltage);

    IEnumerable<string> Standing => dock.Standing.Where(id => id.EndsWith("undervoltage", StringComparison.Ordinal));
}
