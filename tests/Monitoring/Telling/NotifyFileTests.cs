using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telling;

namespace Farberth.Monitoring.Tests.Telling;

public class NotifyFileTests
{
    const string Good = """
        mail: { server: "mail.example.org:2525", from: dock@example.org, tls: tls, user: dock, password: { env: MAIL_PASSWORD } }
        webhook: { key: { file: webhook.key } }
        push: { subject: "mailto:office@example.org", key: { env: PUSH_KEY } }
        people:
          - { name: Ana, role: electrician, mail: Ana <ana@example.org>, webhook: https://example.org/hook }
          - { name: Bo, role: boater, slip: S1, from: 2027-07-17, to: 2027-07-19, mail: bo@example.org }
        """;

    [Fact]
    public void A_whole_file_is_read()
    {
        var result = NotifyFile.Read(Good, TestDock.Site);
        Assert.Empty(result.Mistakes);
        var settings = result.Settings!;

        Assert.Equal(new MailSettings("mail.example.org", 2525, "dock@example.org", "tls", "dock", new("MAIL_PASSWORD", null)), settings.Mail);
        Assert.Equal((new SecretSource(null, "webhook.key"), new PushSettings(new("PUSH_KEY", null), "mailto:office@example.org")), (settings.WebhookKey, settings.Push));
        Assert.Equal(["Ana", "Bo"], settings.People.Select(contact => contact.Name));
        Assert.Equal([Channel.Mail, Channel.Webhook], settings.People[0].Addresses.Select(address => address.Channel));
        Assert.Equal((Audience.Boater, "S1"), (settings.People[1].Role, settings.People[1].Slip));
    }

    /// <summary>Halifax is three hours behind UTC in July (IANA time zone database).</summary>
    [Fact]
    public void A_stay_is_whole_days_of_the_sites_own_clock()
    {
        var stay = NotifyFile.Read(Good, TestDock.Site).Settings!.People[1].Stay;

        Assert.Equal(new Stay(new(2027, 7, 17, 3, 0, 0, TimeSpan.Zero), new DateTimeOffset(2027, 7, 20, 3, 0, 0, TimeSpan.Zero)), stay);
    }

    [Fact]
    public void Without_a_port_it_is_that_of_mail_submission_and_without_a_word_encrypted()
    {
        var mail = NotifyFile.Read("mail: { server: mail.example.org, from: a@example.org }\npeople: []", TestDock.Site).Settings!.Mail;

        Assert.Equal(new MailSettings("mail.example.org", 587, "a@example.org", "starttls", null, null), mail);
    }

    [Theory]
    [InlineData("people:\n  - { name: Ana, role: electrician }", 2, "no way to reach")]
    [InlineData("people:\n  - { name: Ana, role: electrician, mail: a@b.org }", 2, "no 'mail:' section")]
    [InlineData("people:\n  - { name: Ana, role: captain, webhook: https://a.org/ }", 2, "captain")]
    [InlineData("people:\n  - { name: Bo, role: boater, webhook: https://a.org/ }", 2, "needs a 'slip'")]
    [InlineData("people:\n  - { name: Bo, role: boater, slip: S9, webhook: https://a.org/ }", 2, "no slip 'S9'")]
    [InlineData("people:\n  - { name: Bo, role: boater, slip: S1, webhook: https://a.org/ }", 2, "also what concerns other slips")]
    [InlineData("people:\n  - { name: Ana, role: electrician, slip: S1, webhook: https://a.org/ }", 2, "Only a boater")]
    [InlineData("people:\n  - { name: Ana, role: electrician, webhook: ftp://a.org/ }", 2, "http")]
    [InlineData("people:\n  - { name: Bo, role: boater, slip: S1, from: 2027-07-19, to: 2027-07-17, webhook: https://a.org/ }", 2, "before the first")]
    [InlineData("people:\n  - { name: Bo, role: boater, slip: S1, from: 17.7.2027, webhook: https://a.org/ }", 2, "2027-07-17")]
    [InlineData("people:\n  - { name: A, role: electrician, webhook: https://a.org/ }\n  - { name: A, role: electrician, webhook: https://a.org/ }", 3, "twice")]
    [InlineData("people: []\nmail: { server: a.org, from: nobody }", 2, "no mail address")]
    [InlineData("people: []\nmail: { server: a.org, from: a@b.org, user: a, password: hunter2 }", 2, "does not stand in this file")]
    [InlineData("people: []\nmail: { server: a.org, from: a@b.org, user: a }", 2, "go together")]
    [InlineData("people: []\nmail: { server: a.org, from: a@b.org, tls: none, user: a, password: { env: P } }", 2, "without encryption")]
    [InlineData("people: []\nmail: { server: \"a.org:99999\", from: a@b.org }", 2, "no mail server")]
    [InlineData("people: []\nwebhook: { key: { env: A, file: b } }", 2, "either")]
    [InlineData("people: []\npush: { key: { env: A }, subject: office }", 2, "mailto:")]
    [InlineData("people: []\nmial: {}", 2, "mial")]
    [InlineData("{}", 1, "people")]
    public void Each_mistake_is_said_with_its_line(string text, int line, string about)
    {
        var result = NotifyFile.Read(text, TestDock.Site);

        Assert.Null(result.Settings);
        Assert.Contains(result.Mistakes, mistake => mistake.Line == line && mistake.Message.Contains(about, StringComparison.Ordinal));
        Assert.DoesNotContain(result.Mistakes, mistake => mistake.Message.Contains("hunter2", StringComparison.Ordinal));
    }

    [Fact]
    public void All_mistakes_are_found_in_one_pass() => Assert.Equal(
        3, NotifyFile.Read("mail: { server: '?', from: nobody }\npeople:\n  - { name: Ana, role: captain, mail: a@b.org }", TestDock.Site).Mistakes.Count);
}
