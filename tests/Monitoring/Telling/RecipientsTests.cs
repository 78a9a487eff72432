using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telling;

namespace Farberth.Monitoring.Tests.Telling;

public class RecipientsTests
{
    static readonly DateTimeOffset Now = TestDock.Start;

    static readonly IReadOnlyList<Contact> Everybody =
    [
        new("Ana", Audience.Electrician, [new(Channel.Mail, "ana@example.org"), new(Channel.Push, "{}")]),
        new("Cy", Audience.Harbormaster, [new(Channel.Mail, "cy@example.org")]),
        Boater("One", "S1"), Boater("Two", "S2"), Boater("Three", "S3"),
        Boater("Left", "S1") with { Stay = new(Now.AddDays(-9), Now) },
        Boater("Comes", "S1") with { Stay = new(Now.AddSeconds(1), null) },
        Boater("Here", "S1") with { Stay = new(Now, Now.AddDays(1)) },
    ];

    readonly Recipients recipients = new(TestDock.Site);

    static Contact Boater(string name, string slip) => new(name, Audience.Boater, [new(Channel.Push, "{}")]) { Slip = slip };

    [Fact]
    public void Staff_is_told_on_every_channel_and_the_boater_of_the_slip_while_he_lies_there()
    {
        var told = recipients.Of(new AlarmStepped(Raised(new("B", null, "B1", "A", "S1"))), Everybody).Tell;

        Assert.Equal(["Ana Mail", "Ana Push", "Cy Mail", "Here Push", "One Push"], told.Select(row => $"{row.Contact} {row.Channel}").Order());
        Assert.All(told, row => Assert.Equal((TellingState.Waiting, 0), (row.State, row.Attempts)));
    }

    [Theory]
    [InlineData(null, null, "Here One Three Two")]
    [InlineData("B2", null, "Three Two")]
    [InlineData("B3", null, "Three")]
    [InlineData(Place.FeederBreaker, null, "Here One Three Two")]
    [InlineData(null, "B2", "Two")]
    public void What_concerns_a_pedestal_a_cable_or_the_dock_is_told_to_all_boaters_who_are_fed_by_it(string? cable, string? pedestal, string boaters) =>
        Assert.Equal(boaters, Names(Raised(new("B", cable, pedestal), Audience.Boater)));

    [Theory]
    [InlineData(Audience.Electrician, "Ana")]
    [InlineData(Audience.Electrician | Audience.Harbormaster, "Ana Cy")]
    [InlineData(Audience.Boater, "Two")]
    [InlineData(Audience.None, "")]
    public void An_alarm_is_told_to_those_it_is_for(Audience audience, string names) =>
        Assert.Equal(names, Names(Raised(new("B", null, "B2", "A", "S2"), audience)));

    [Theory]
    [InlineData(AlarmState.Normal, AlarmState.Unacknowledged, "Ana Cy Two")]
    [InlineData(AlarmState.ReturnedUnacknowledged, AlarmState.Unacknowledged, "Ana Cy Two")]
    [InlineData(AlarmState.Acknowledged, AlarmState.Unacknowledged, "Ana Cy Two")] // it got worse
    [InlineData(AlarmState.Unacknowledged, AlarmState.ReturnedUnacknowledged, "Ana Cy Two")]
    [InlineData(AlarmState.Acknowledged, AlarmState.Normal, "Ana Cy Two")]
    [InlineData(AlarmState.Unacknowledged, AlarmState.Shelved, "Ana Cy")]
    [InlineData(AlarmState.Acknowledged, AlarmState.OutOfService, "Ana Cy")]
    [InlineData(AlarmState.Unacknowledged, AlarmState.Acknowledged, "")]
    [InlineData(AlarmState.Normal, AlarmState.Suppressed, "")]
    [InlineData(AlarmState.Unacknowledged, AlarmState.Suppressed, "")]
    [InlineData(AlarmState.Suppressed, AlarmState.Normal, "")]
    [InlineData(AlarmState.Shelved, AlarmState.Normal, "")]
    [InlineData(AlarmState.Normal, AlarmState.Shelved, "")]
    [InlineData(AlarmState.ReturnedUnacknowledged, AlarmState.Normal, "")]
    public void Which_steps_are_told_to_whom(AlarmState from, AlarmState to, string names) =>
        Assert.Equal(names, Names(Raised(new("B", null, "B2", "A", "S2")) is var step ? step with { From = from, Alarm = step.Alarm with { State = to } } : step));

    [Fact]
    public void Who_was_spared_in_a_flood_is_told_when_it_is_over_and_nobody_twice()
    {
        var raised = Raised(new("B", null, "B2", "A", "S2"));
        var held = raised with { Alarm = raised.Alarm with { HeldBackFrom = Audience.Electrician } };
        Assert.Equal("Cy Two", Names(held));
        Assert.Equal("Ana", Names(raised with { From = AlarmState.Unacknowledged }));
        Assert.Equal("Ana Cy Two", Names(raised with { From = AlarmState.Unacknowledged, Alarm = raised.Alarm with { State = AlarmState.ReturnedUnacknowledged } }));
    }

    [Fact]
    public void What_got_worse_in_a_flood_is_told_to_everybody()
    {
        var raised = Raised(new("B", null, "B2", "A", "S2"));
        Names(raised with { Alarm = raised.Alarm with { HeldBackFrom = Audience.Electrician } });

        Assert.Equal("Ana Cy Two", Names(raised with { From = AlarmState.Unacknowledged, Alarm = raised.Alarm with { Priority = Priority.High } }));
    }

    [Fact]
    public void Who_was_spared_before_a_restart_is_told_when_the_flood_is_over()
    {
        var raised = Raised(new("B", null, "B2", "A", "S2"));
        recipients.Restore([raised with { Alarm = raised.Alarm with { HeldBackFrom = Audience.Electrician } }]);

        Assert.Equal("Ana", Names(raised with { From = AlarmState.Unacknowledged }));
    }

    [Fact]
    public void A_request_is_told_to_the_boater_alone()
    {
        var change = new AdviceChange(Now, new(Now, "S1", Ask.Shed, 7.5, "Please switch off about 7.5 A.", Now.AddHours(1), "the cable is full"), null);

        Assert.Equal(["Here", "One"], recipients.Of(new AdviceChanged(change, "B"), Everybody).Tell.Select(row => row.Contact).Order());
    }

    string Names(AlarmTransition step) =>
        string.Join(' ', recipients.Of(new AlarmStepped(step), Everybody).Tell.Select(row => row.Contact).Distinct().Order());

    static AlarmTransition Raised(Place place, Audience audience = Audience.Everybody) => new(Now, AlarmState.Normal, new(
        place.AlarmId(AlarmKind.Overload), AlarmKind.Overload, AlarmState.Unacknowledged, Priority.Medium, Now, place, audience, "Too much is drawn here.", []), "the limit was passed");
}
