using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telling;
using Farberth.Service.Access;
using Farberth.Service.Boater;
using Farberth.Service.Journaling;
using Farberth.Service.Loop;
using Farberth.Service.Telling;
using Farberth.Service.Tests.Journaling;
using Serilog;

namespace Farberth.Service.Tests.Boater;

/// <summary>Who wants to be told, in a real journal that can be taken away.</summary>
public sealed class NoticesTests : IDisposable
{
    const string Phone = """{"endpoint":"https://push.example.org/1","keys":{"p256dh":"BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4","auth":"BTBZMqHH6r4Tts7J_aSIgg"}}""";

    static readonly BoatStay Osprey = new(1, "B1", "Osprey", DockOffice.Noon, DockOffice.Noon.AddDays(3)), Tern = Osprey with { Id = 11, Slip = "B2" };

    readonly string folder = Directory.CreateTempSubdirectory("notices-").FullName;
    readonly StubbornJournal journal;
    readonly ContactBook contacts = new([new("Ana", Audience.Electrician, [new(Channel.Mail, "ana@example.org")])]);
    readonly Teller teller;
    readonly JournalKeeper keeper;
    readonly Notices notices;

    public NoticesTests()
    {
        journal = new(Path.Combine(folder, "journal.sqlite"));
        teller = new([], (_, events, leftOut) => new NoticeWords(Given.FourPosts()).Digest(events, leftOut), contacts, TellingLimits.Usual, TimeProvider.System, Log.Logger);
        keeper = new(new(journal, [], null), Given.FourPosts(), new Outbox(), teller, contacts, TimeProvider.System, Log.Logger);
        notices = new(NotifyOptions.Nobody, keeper, contacts, TimeProvider.System);
    }

    public void Dispose()
    {
        notices.Dispose();
        keeper.Dispose();
        teller.Dispose();
        journal.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public void A_boater_is_told_of_his_slip_during_his_stay_alone()
    {
        Assert.Equal(Said.On, notices.TellMail(Osprey, " eve@example.org ", "en"));

        var kept = Assert.Single(journal.Contacts());
        Assert.Equal((Audience.Boater, "B1", new Stay(Osprey.From, Osprey.To), ContactOrigin.Entered), (kept.Role, kept.Slip, kept.Stay, kept.Origin));
        Assert.Equal(new Address(Channel.Mail, "eve@example.org"), Assert.Single(kept.Addresses));
        Assert.DoesNotContain("eve", kept.Name); // the log has the name
        Assert.Contains(contacts.Value, one => one.Name == kept.Name);
    }

    [Fact]
    public void An_address_is_kept_once_and_a_phone_beside_it()
    {
        notices.TellMail(Osprey, "eve@example.org", "en");
        notices.TellMail(Osprey, "eve@example.org", "en");
        Assert.Equal(Said.On, notices.TellPush(Osprey, Phone, "de"));
        Assert.Equal(["de", "en"], journal.Contacts().Select(kept => kept.Language).Order());

        Assert.Equal(Said.Stopped, notices.StopMail(Osprey, "eve@example.org"));
        Assert.Equal(Said.Stopped, notices.StopPush(Osprey, Phone));
        Assert.Empty(journal.Contacts());
        Assert.Equal("Ana", Assert.Single(contacts.Value).Name);
    }

    [Fact]
    public void Out_of_a_notice_one_address_is_forgotten_and_no_other()
    {
        notices.TellMail(Osprey, "eve@example.org", "en");
        notices.TellMail(Osprey, "tom@example.org", "de");
        var links = new BoaterLinks(LinkKey.In(null));
        var code = links.StopCode(contacts.Value.Single(one => one.Language == "de").Name);

        Assert.Equal(Said.Stopped, notices.StopContact(links.ReadStopCode(code)!));
        Assert.Equal(Said.Stopped, notices.StopContact(links.ReadStopCode(code)!)); // pressed twice
        Assert.Equal("eve@example.org", Assert.Single(Assert.Single(journal.Contacts()).Addresses).Endpoint);
    }

    [Fact]
    public void When_a_boat_has_left_its_addresses_are_forgotten_and_nobody_elses()
    {
        notices.TellMail(Osprey, "eve@example.org", "en");
        notices.TellMail(Tern, "tom@example.org", "en");

        notices.StopAll(Osprey.Id);

        Assert.Equal("tom@example.org", Assert.Single(Assert.Single(journal.Contacts()).Addresses).Endpoint);
        Assert.Equal([Tern.Id], notices.Told);
    }

    [Fact]
    public void A_stay_has_so_many_addresses_and_no_more()
    {
        for (var at = 0; at < Notices.MostAStay; at++)
            Assert.Equal(Said.On, notices.TellMail(Osprey, $"crew{at}@example.org", "en"));

        Assert.Equal(Said.Full, notices.TellMail(Osprey, "one.more@example.org", "en"));
        Assert.Equal(Said.On, notices.TellMail(Osprey, "crew0@example.org", "en"));
        Assert.Equal(Said.On, notices.TellMail(Tern, "one.more@example.org", "en"));
    }

    [Fact]
    public void What_cannot_be_kept_is_said_and_who_wants_to_stop_is_told_nothing_more_all_the_same()
    {
        notices.TellMail(Osprey, "eve@example.org", "en");
        journal.IsAway = true;

        Assert.Equal(Said.Away, notices.TellMail(Osprey, "tom@example.org", "en"));
        Assert.Equal(Said.Away, notices.StopMail(Osprey, "eve@example.org"));
        Assert.Equal("Ana", Assert.Single(contacts.Value).Name);
    }

    [Theory]
    [InlineData("")]
    [InlineData("eve")]
    [InlineData("eve@example.org\r\nBcc: all@example.org")]
    [InlineData("Eve <eve@example.org>")]
    [InlineData("eve@example.org, tom@example.org")]
    public void What_is_no_address_is_not_taken(string address) => Assert.Equal(Said.Bad, notices.TellMail(Osprey, address, "en"));

    [Theory]
    [InlineData("http://127.0.0.1:8470/")]
    [InlineData("https://127.0.0.1/")]
    [InlineData("https://[::1]/")]
    [InlineData("https://localhost/")]
    [InlineData("https://router.local/")]
    [InlineData("https://push.example.org:8443/")]
    public void Nobody_makes_the_service_knock_at_a_door_inside(string endpoint) =>
        Assert.Equal(Said.Bad, notices.TellPush(Osprey, Phone.Replace("https://push.example.org/1", endpoint, StringComparison.Ordinal), "en"));
}
