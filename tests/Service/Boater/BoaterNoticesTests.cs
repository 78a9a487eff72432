using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Notifiers.Email;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telling;
using Farberth.Service.Boater;

namespace Farberth.Service.Tests.Boater;

/// <summary>What a boater is told of what the real monitor says.</summary>
public class BoaterNoticesTests
{
    static readonly Uri Dock = new("https://dock.example.org/");
    static readonly SiteDefinition Site = Given.FourPosts();

    readonly BoaterLinks links = new(LinkKey.In(null));

    static double Good(string pedestal) => 231;

    static double Little(string outlet) => 3;

    /// <summary>A sag, everybody over his limit, volts far outside, nobody heard any more; as far as each boater is told of it, in every language.</summary>
    [Fact]
    public void Nothing_of_a_neighbour_stands_in_a_notice_whatever_happens()
    {
        var page = new ReadPage().Hear(3, Good, Little)
            .Hear(300, pedestal => pedestal switch { "Q1" => 214, "Q2" => 206, _ => 205.5 }, outlet => outlet switch { "Q2.B" => 24, "Q3.A" or "Q4.A" => 0.5, _ => 12 })
            .Hear(200, pedestal => pedestal == "Q1" ? 224 : 199, outlet => outlet.EndsWith('A') ? 15.5 : 30)
            .Hear(200, Good, Little)
            .Hear(100, pedestal => pedestal == "Q1" ? 231 : 0, outlet => outlet.StartsWith("Q1", StringComparison.Ordinal) ? 3 : 0)
            .Wait(TimeSpan.FromMinutes(3));
        var recipients = new Recipients(Site);
        List<Contact> boaters = [.. from slip in Site.Slips.Keys from language in Words.WordBook.Languages select Boater(slip, language)];
        var told = page.Events.SelectMany(happened => recipients.Of(happened, boaters).Tell).ToLookup(row => row.Contact, row => row.Event);

        var (letters, staff) = (Letters(), new NoticeWords(Site));
        Assert.All(boaters, boater => Assert.NotEmpty(told[boater.Name]));
        Assert.Contains(boaters, boater => told[boater.Name].Any(happened => page.NamesOfOthers(boater.Slip!).Any(name => ReadPage.Names(staff.Of(happened).Text, name))));
        foreach (var boater in boaters)
            foreach (var notice in told[boater.Name].Select(happened => letters.Of(boater, [happened], 0)).Append(letters.Of(boater, [.. told[boater.Name]], 3)))
                Assert.DoesNotContain(page.NamesOfOthers(boater.Slip!), name => ReadPage.Names($"{notice.Headline} {notice.Text} {notice.Caution} {notice.WayOut!.Sentence}", name));
    }

    [Fact]
    public void A_request_says_in_german_how_much_until_when_and_why()
    {
        var page = new ReadPage().Hear(3, Good, Little).Hear(300, Good, outlet => outlet == "Q1.A" ? 15.2 : 3);
        var asked = page.Events.OfType<AdviceChanged>().First(happened => happened.Slip == "B1");

        var notice = Letters().Of(Boater("B1", "de"), [asked], 0);

        Assert.Matches(@"^Bitte schalten Sie bis \d\d:\d\d etwa \d,\d A ab\.$", notice.Headline);
        Assert.Contains("Ihre Steckdose führt mehr Strom, als sie darf.", notice.Text);
        Assert.Contains("Ein Kabel wird erst abgezogen, wenn alles daran abgeschaltet ist.", notice.Text);
        Assert.Matches(@"Liegeplatz B1, Di, 3\. August, 16:\d\d\.$", notice.Text); // a Tuesday; Lisbon's summer is an hour ahead of UTC
        Assert.StartsWith("Niemand schwimmt an einem Steg mit Strom.", notice.Caution);
        Assert.Equal("dringend", notice.High);
    }

    [Fact]
    public void An_alarm_says_what_it_is_what_to_do_and_when_it_is_over()
    {
        var page = new ReadPage().Hear(3, Good, Little).Hear(300, Good, outlet => outlet == "Q1.A" ? 15.2 : 3).Hear(1200, Good, Little);
        var steps = page.Events.OfType<AlarmStepped>().Where(step => step.Name == "Q.Q1.A.overload").ToList();

        var (raised, over) = (Letters().Of(Boater("B1", "en"), [steps[0]], 0), Letters().Of(Boater("B1", "en"), [steps[^1]], 0));

        Assert.Equal("Too many amps (outlet A).", raised.Headline);
        Assert.Contains("Switch something off", raised.Text);
        Assert.Equal("Over: too many amps (outlet A).", over.Headline);
    }

    [Fact]
    public void What_was_held_back_comes_as_one_with_its_number()
    {
        var page = new ReadPage().Hear(3, Good, Little).Hear(300, Good, outlet => outlet == "Q1.A" ? 15.2 : 3);
        List<JournalEvent> events = [.. page.Events.Where(happened => happened.Slip == "B1").Take(2)];

        var notice = Letters().Of(Boater("B1", "de"), events, 40);

        Assert.Equal("42 Nachrichten wurden zurückgehalten, um Sie nicht zu überfluten:", notice.Headline);
        Assert.EndsWith("und 40 weitere: siehe Ihre Seite.", notice.Text);
    }

    /// <summary>One code a contact, whatever he is told; it needs nothing but itself.</summary>
    [Fact]
    public void Who_has_entered_himself_gets_a_link_that_ends_it()
    {
        var way = Letters().Of(Boater("B1", "de"), [Overload()], 0).WayOut!;

        Assert.StartsWith("https://dock.example.org/b/stop/", way.Address.AbsoluteUri);
        Assert.EndsWith("?lang=de", way.Address.AbsoluteUri);
        Assert.Equal(Boater("B1", "de").Name, links.ReadStopCode(way.Address.Segments[^1]));
        Assert.Contains(way.Address.AbsoluteUri, way.Sentence);
    }

    [Fact]
    public void Who_stands_in_the_file_writes_to_the_dock_office()
    {
        var way = Letters().Of(Boater("B1", "en") with { Origin = ContactOrigin.File, Language = null }, [Overload()], 0).WayOut!;

        Assert.Equal("mailto:dock@example.org", way.Address.AbsoluteUri);
        Assert.Equal("To be told nothing more, write to the dock office: dock@example.org", way.Sentence);
    }

    [Fact]
    public void Who_is_to_plug_in_again_asks_first()
    {
        var advice = new BoaterAdvice(DockOffice.Noon, "B1", Ask.Unplug, 3, "", DockOffice.Noon, "leakage: current leaks");
        var (asked, over) = (new AdviceChanged(new(DockOffice.Noon, advice, null), "Q"), new AdviceChanged(new(DockOffice.Noon, advice, "it is over"), "Q"));

        Assert.Equal("DANGER: current leaks from your boat or its cord and may be in the water.", Letters().Of(Boater("B1", "en"), [asked], 0).Headline);
        Assert.Contains("Ask the dock office before you plug in again.", Letters().Of(Boater("B1", "en"), [over], 0).Text);
    }

    BoaterNotices Letters() => new(Site, links, new(new ServiceOptions(Site, new MqttOptions("127.0.0.1", 0, "x"), 0, Dock) { Address = Dock }, null!),
        new([], new MailOptions("127.0.0.1", 25, "Dock office <dock@example.org>"), null, null));

    static Contact Boater(string slip, string language) =>
        new($"stay 7 mail of {slip} {language}", Audience.Boater, [new(Channel.Mail, "eve@example.org")]) { Slip = slip, Language = language, Origin = ContactOrigin.Entered };

    static AlarmStepped Overload() => Telling.Happened.Step(DockOffice.Noon, "Q.Q1.A.overload");
}
