using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telling;

namespace Farberth.Monitoring.Tests.Telling;

public class NoticeWordsTests
{
    static readonly DateTimeOffset Now = TestDock.Start; // 15:00 in Halifax

    readonly NoticeWords words = new(TestDock.Site);

    [Fact]
    public void The_sentence_comes_first_then_where_since_when_and_why()
    {
        var notice = words.Of(Step("Outlet A of pedestal B1 carries 27.4 A. Ask the boat to switch something off."));

        Assert.Equal("Outlet A of pedestal B1 carries 27.4 A.", notice.Headline);
        Assert.Equal(
            "Outlet A of pedestal B1 carries 27.4 A. Ask the boat to switch something off.\n\n"
            + "B.B1.A.overload: unacknowledged, medium priority, since 2027-07-17 15:00:00. The limit was passed.", notice.Text);
        Assert.Equal((Cautions.Text, "marshpoint", Priority.Medium), (notice.Caution, notice.Site, notice.Priority));
        Assert.Equal("B.B1.A.overload 2027-07-17T18:00:00.000Z unacknowledged", notice.Id);
    }

    [Fact]
    public void What_is_over_says_so_and_what_is_put_aside_says_by_whom()
    {
        Assert.StartsWith("Over: Too much.", words.Of(Step("Too much.", AlarmState.ReturnedUnacknowledged)).Headline);
        Assert.StartsWith("Put aside (the limit was passed): Too much.", words.Of(Step("Too much.", AlarmState.Shelved)).Text);
    }

    [Fact]
    public void A_headline_is_one_line_whatever_people_have_written()
    {
        var notice = words.Of(Step("Line one\r\nBcc: everybody@example.org\u0007 " + new string('x', 500)));

        Assert.Equal(140, notice.Headline.Length);
        Assert.DoesNotContain(notice.Headline, char.IsControl);
    }

    [Fact]
    public void A_request_that_is_taken_back_does_not_ask_again()
    {
        var advice = new BoaterAdvice(Now, "S1", Ask.Shed, 7.5, "Please switch off about 7.5 A.", Now.AddHours(1), "the cable is full");

        Assert.Equal("Please switch off about 7.5 A.", words.Of(new AdviceChanged(new(Now, advice, null), "B")).Headline);
        var back = words.Of(new AdviceChanged(new(Now, advice, "the cable carries less"), "B"));
        Assert.Equal("Nothing is asked of slip S1 any more: the cable carries less.", back.Headline);
        Assert.DoesNotContain("switch off", back.Text);
    }

    [Fact]
    public void To_unplug_is_a_hazard()
    {
        var advice = new BoaterAdvice(Now, "S1", Ask.Unplug, 20, "DANGER: the plug is hot.", Now.AddHours(1), "the plug is hot");

        Assert.True(Urgency.IsHazard(new AdviceChanged(new(Now, advice, null), "B")));
        Assert.False(Urgency.IsHazard(new AdviceChanged(new(Now, advice, "it is cold"), "B")));
        Assert.False(Urgency.IsHazard(new AdviceChanged(new(Now, advice with { Ask = Ask.Shed }, null), "B")));
    }

    [Fact]
    public void A_digest_counts_what_it_does_not_list_and_keeps_the_caution()
    {
        var notice = words.Digest([.. Enumerable.Range(1, 40).Select(number => Step($"Number {number}."))], leftOut: 5);

        Assert.StartsWith("45 messages held back: Number 1.", notice.Headline);
        Assert.Equal(32, notice.Text.Split('\n').Length);
        Assert.Contains("Number 30.", notice.Text);
        Assert.DoesNotContain("Number 31.", notice.Text);
        Assert.EndsWith("and 15 more: see the page.", notice.Text);
        Assert.Equal(Cautions.Text, notice.Caution);
    }

    [Fact]
    public void Of_one_event_there_is_no_digest() => Assert.Equal(words.Of(Step("One.")).Text, words.Digest([Step("One.")], 0).Text);

    static AlarmStepped Step(string message, AlarmState state = AlarmState.Unacknowledged) => new(new AlarmTransition(Now, AlarmState.Normal, new(
        "B.B1.A.overload", AlarmKind.Overload, state, Priority.Medium, Now, new("B", null, "B1", "A", "S1"), Audience.Everybody, message, []), "the limit was passed"));
}
