using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Service.Boater;

namespace Farberth.Service.Tests.Boater;

public class EpisodeTests
{
    static readonly DateTimeOffset Start = DockOffice.Noon;

    [Fact]
    public void An_alarm_lasts_from_its_raise_to_its_return_however_often_it_was_seen_in_between()
    {
        var one = Assert.Single(Episode.Of(
            [Step(0, AlarmState.Unacknowledged), Step(2, AlarmState.Acknowledged), Step(9, AlarmState.Normal)], Start));

        Assert.Equal((Start, Start.AddMinutes(9)), (one.From, one.To));
    }

    [Fact]
    public void What_still_stands_has_no_end_and_the_latest_comes_first()
    {
        var past = Episode.Of(
            [Asked(8, null), Step(5, AlarmState.Unacknowledged, since: 5), Step(3, AlarmState.ReturnedUnacknowledged), Step(0, AlarmState.Unacknowledged)], Start);

        Assert.Equal([8, 5, 0], past.Select(one => (one.From - Start).TotalMinutes));
        Assert.Equal([null, null, Start.AddMinutes(3)], past.Select(one => one.To));
    }

    [Fact]
    public void A_request_that_is_asked_again_is_one_until_it_is_taken_back()
    {
        var one = Assert.Single(Episode.Of([Asked(0, null), Asked(30, null), Asked(42, "the amps are back")], Start));

        Assert.Equal((Start, Start.AddMinutes(42)), (one.From, one.To));
    }

    [Fact]
    public void What_began_before_the_stay_is_another_boats()
    {
        Assert.Empty(Episode.Of([Step(-5, AlarmState.Unacknowledged, since: -5), Step(2, AlarmState.Normal, since: -5)], Start));
        Assert.Empty(Episode.Of([Step(2, AlarmState.Normal, since: -5)], Start));
        Assert.Empty(Episode.Of([Step(2, AlarmState.Unacknowledged, since: -5)], Start)); // it got worse
    }

    static AlarmStepped Step(double minute, AlarmState state, double since = 0) => new(new AlarmTransition(
        Start.AddMinutes(minute), state == AlarmState.Unacknowledged ? AlarmState.Normal : AlarmState.Unacknowledged,
        new("Q.Q1.A.overload", AlarmKind.Overload, state, Priority.Medium, Start.AddMinutes(since), new("Q", null, "Q1", "A", "B1"), Audience.Everybody, "", []), ""));

    static AdviceChanged Asked(double minute, string? takenBack) => new(new AdviceChange(
        Start.AddMinutes(minute), new(Start.AddMinutes(minute), "B1", Ask.Shed, 3, "", Start.AddMinutes(minute + 30), ""), takenBack), "Q");
}
