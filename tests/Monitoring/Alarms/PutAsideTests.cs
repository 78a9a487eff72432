using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Wire;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>Shelving and out of service: with a name, a reason and an end. Overload raises after 60 s and clears after 30 s here.</summary>
public class PutAsideTests
{
    const string Id = "B.B3.A.overload";

    readonly TestDock dock = new();

    [Fact]
    public void A_shelved_alarm_says_who_why_and_until_when()
    {
        Draw(25, seconds: 70);
        Shelve(TimeSpan.FromHours(2)).Run(TimeSpan.FromSeconds(1));
        var step = dock.Of(AlarmKind.Overload).Last();
        Assert.Equal((AlarmState.Unacknowledged, AlarmState.Shelved), (step.From, step.Alarm.State));
        Assert.Equal("shelved by Ines until 2027-07-17 20:01 UTC: cord ordered", step.Reason);
        var json = System.Text.Encoding.UTF8.GetString(AlarmJson.Of(step.Alarm));
        Assert.Contains("""
            "state":"shelved"
            """, json);
        Assert.Contains("""
            "set-aside":{"by":"Ines","at":"2027-07-17T18:01:10.000Z","until":"2027-07-17T20:01:10.000Z","reason":"cord ordered"}
            """, json);
    }

    [Fact]
    public void At_its_end_it_comes_back_by_itself_and_is_raised_anew_where_the_condition_holds()
    {
        Draw(25, seconds: 70);
        Shelve(TimeSpan.FromHours(1)).Run(TimeSpan.FromHours(1));
        Assert.Equal(AlarmState.Shelved, dock.Of(AlarmKind.Overload).Last().Alarm.State);
        dock.Run(TimeSpan.FromSeconds(1));
        var back = dock.Of(AlarmKind.Overload).TakeLast(2).ToList();
        Assert.Equal([AlarmState.Normal, AlarmState.Unacknowledged], back.Select(step => step.Alarm.State));
        Assert.All(back, step => Assert.Equal(TestDock.Start.AddSeconds(3670), step.At));
        Assert.Equal(["the end of its shelf", "it was shelved, and its condition still holds"], back.Select(step => step.Reason));
    }

    [Fact]
    public void At_its_end_it_is_gone_where_the_condition_is()
    {
        Draw(25, seconds: 70);
        Shelve(TimeSpan.FromHours(1));
        Draw(10, seconds: 3700);
        Assert.Equal(AlarmState.Normal, dock.Of(AlarmKind.Overload).Last().Alarm.State);
        Assert.DoesNotContain(dock.Last.Standing, alarm => alarm.Id == Id);
    }

    [Fact]
    public void Unshelved_by_a_person_it_stands_again()
    {
        Draw(25, seconds: 70);
        Shelve(TimeSpan.FromHours(1)).Run(TimeSpan.FromSeconds(5)).Hear(new UnshelveRequest(dock.Now, Id, "Bo")).Run(TimeSpan.FromSeconds(1));
        Assert.Equal(
            ["the limit was passed", "shelved by Ines until 2027-07-17 19:01 UTC: cord ordered", "taken off the shelf by Bo", "it was shelved, and its condition still holds"],
            dock.Of(AlarmKind.Overload).Select(step => step.Reason));
    }

    [Fact]
    public void A_shelf_holds_nothing_that_is_worse_than_what_was_put_there()
    {
        Draw(25, seconds: 70);
        Shelve(TimeSpan.FromHours(2));
        Draw(60, seconds: 25); // three readings: no motor's start
        Assert.Equal(AlarmState.Unacknowledged, dock.Of(AlarmKind.Overload).Last().Alarm.State);
        Assert.Equal(Priority.High, dock.Of(AlarmKind.Overload).Last().Alarm.Priority);
        Assert.Equal("it is worse than what was shelved", dock.Of(AlarmKind.Overload).Last().Reason);
    }

    [Fact]
    public void What_is_normal_can_be_shelved_before_it_comes()
    {
        Draw(5, seconds: 10);
        Shelve(TimeSpan.FromHours(1));
        Draw(25, seconds: 600);
        Assert.Equal(AlarmState.Shelved, Assert.Single(dock.Of(AlarmKind.Overload)).Alarm.State);
    }

    [Fact]
    public void High_priority_is_shelved_for_an_hour_at_most()
    {
        Draw(31, seconds: 5);
        Shelve(TimeSpan.FromMinutes(61)).Run(TimeSpan.FromSeconds(1));
        Assert.Equal("of high priority it can be shelved for 1 h at most", $"{Assert.Single(dock.Last.Refused).Why}");
        Shelve(TimeSpan.FromMinutes(60)).Run(TimeSpan.FromSeconds(1));
        Assert.Equal(AlarmState.Shelved, dock.Of(AlarmKind.Overload).Last().Alarm.State);
    }

    [Theory]
    [InlineData("B.open-neutral")]
    [InlineData("B.B3.A.leakage")]
    public void What_kills_is_not_shelved(string id)
    {
        dock.Says["B3"] = Leaking();
        dock.Run(TimeSpan.FromSeconds(30)).Hear(new ShelveRequest(dock.Now, id, "Ines", dock.Now.AddMinutes(10), "noise")).Run(TimeSpan.FromSeconds(1));
        Assert.EndsWith("is a danger to life and cannot be shelved", $"{Assert.Single(dock.Last.Refused).Why}");
        Assert.DoesNotContain(dock.Last.Standing, alarm => alarm.State == AlarmState.Shelved);
    }

    [Fact]
    public void A_hazard_out_of_service_comes_back_by_itself()
    {
        dock.Says["B3"] = Leaking();
        dock.Run(TimeSpan.FromSeconds(30)).Hear(new OutOfServiceRequest(dock.Now, "B.B3.A.leakage", "Bo", "sensor faulty")).Run(TimeSpan.FromHours(12));
        Assert.Equal(AlarmState.OutOfService, dock.Of(AlarmKind.Leakage).Last().Alarm.State);
        dock.Run(TimeSpan.FromSeconds(1));
        Assert.Equal(
            [AlarmState.Unacknowledged, AlarmState.OutOfService, AlarmState.Normal, AlarmState.Unacknowledged],
            dock.Of(AlarmKind.Leakage).Select(step => step.Alarm.State));
    }

    [Fact]
    public void Out_of_service_lasts_until_somebody_returns_it()
    {
        dock.Run(TimeSpan.FromSeconds(10)).Hear(new OutOfServiceRequest(dock.Now, "B.B2.meter-silent", "Bo", "meter taken out")).Says.Remove("B2");
        dock.Run(TimeSpan.FromHours(20));
        Assert.Equal("taken out of service by Bo: meter taken out", Assert.Single(dock.Of(AlarmKind.MeterSilent)).Reason);
        dock.Hear(new ReturnToServiceRequest(dock.Now, "B.B2.meter-silent", "Bo")).Run(TimeSpan.FromSeconds(1));
        Assert.Equal(AlarmState.Unacknowledged, dock.Of(AlarmKind.MeterSilent).Last().Alarm.State);
    }

    [Fact]
    public void What_the_diagram_does_not_know_is_refused_with_the_reason()
    {
        Draw(5, seconds: 10);
        dock.Hear(new UnshelveRequest(dock.Now, Id, "Bo")).Run(TimeSpan.FromSeconds(1));
        Assert.Equal("it is normal: that does not go from there", $"{Assert.Single(dock.Last.Refused).Why}");
        Draw(25, seconds: 70);
        Draw(5, seconds: 50);
        Shelve(TimeSpan.FromHours(1)).Run(TimeSpan.FromSeconds(1));
        Assert.Equal("it is returned-unacknowledged: that does not go from there", $"{Assert.Single(dock.Last.Refused).Why}");
        Assert.Empty(dock.Run(TimeSpan.FromSeconds(1)).Last.Refused);
    }

    [Fact]
    public void An_alarm_of_another_dock_or_that_no_rule_watches_is_refused_or_left_alone()
    {
        Draw(5, seconds: 10);
        dock.Hear(new OutOfServiceRequest(dock.Now, "Z.B3.A.overload", "Bo", "why not")).Hear(new UnshelveRequest(dock.Now, "B.B3.A.meter-silent", "Bo"))
            .Run(TimeSpan.FromSeconds(1));
        Assert.Equal("nothing is watched by that name now", $"{Assert.Single(dock.Last.Refused).Why}");
        Assert.Empty(dock.Transitions);
    }

    [Fact]
    public void The_longest_shelf_that_the_decoder_lets_through_is_the_longest_there_is()
    {
        Draw(25, seconds: 70);
        Shelve(Shelving.Longest + TimeSpan.FromSeconds(1)).Run(TimeSpan.FromSeconds(1));
        Assert.Equal("of medium priority it can be shelved for 12 h at most", $"{Assert.Single(dock.Last.Refused).Why}");
    }

    TestDock Shelve(TimeSpan time) => dock.Hear(new ShelveRequest(dock.Now, Id, "Ines", dock.Now + time, "cord ordered"));

    static Reading Leaking()
    {
        var reading = TestDock.Reading("B3", 120, 120);
        return reading with { Outlets = reading.Outlets.ToDictionary(pair => pair.Key, pair => pair.Value with { LeakageMilliamps = pair.Key == "A" ? 50 : 0 }) };
    }

    void Draw(double amps, int seconds) => dock.Say("B3", 116, 120, ("A", Leg.L1, amps)).Run(TimeSpan.FromSeconds(seconds));
}
