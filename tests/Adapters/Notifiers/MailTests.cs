using System.Net;
using System.Net.Sockets;
using Farberth.Adapters.Notifiers;
using Farberth.Adapters.Notifiers.Email;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using MimeKit;
using SmtpServer.Protocol;

namespace Farberth.Adapters.Tests.Notifiers;

/// <summary>Against a real mail server on the loopback address.</summary>
public sealed class MailTests : NotifierTests
{
    static readonly Address Ana = new(Channel.Mail, "Ana <ana@example.org>");

    static MailNotifier Notifier(int port, MailTls tls = MailTls.None, string? password = null, TimeSpan? within = null) => new(
        new MailOptions("127.0.0.1", port, "Dock office <dock@example.org>") { Tls = tls, User = "dock", Password = password == null ? null : new Secret(password) },
        TimeProvider.System, within ?? Within);

    [Fact]
    public async Task A_mail_says_in_its_subject_what_is_wrong_and_ends_with_the_caution()
    {
        await using var server = MailServer.Start();
        Assert.IsType<TellingOutcome.Delivered>(await Notifier(server.Port).Tell(OpenNeutral(), Ana, Cancel));
        var mail = await server.Next();

        Assert.Equal("[eastharbour, high] The neutral of cable C7 is open.", mail.Subject);
        Assert.Equal(("ana@example.org", "dock@example.org"), (mail.To.Mailboxes.Single().Address, mail.From.Mailboxes.Single().Address));
        Assert.Empty(mail.Bcc);
        Assert.Equal((MessageImportance.High, "auto-generated"), (mail.Importance, mail.Headers["Auto-Submitted"]));
        Assert.StartsWith("The neutral of cable C7 is open.", mail.TextBody);
        Assert.EndsWith(Cautions.Text, mail.TextBody!.TrimEnd());
    }

    [Fact]
    public async Task The_same_notice_sent_twice_has_the_same_name()
    {
        await using var server = MailServer.Start();
        await Notifier(server.Port).Tell(OpenNeutral(), Ana, Cancel);
        await Notifier(server.Port).Tell(OpenNeutral(), Ana, Cancel);
        await Notifier(server.Port).Tell(OpenNeutral(), new(Channel.Mail, "bo@example.org"), Cancel);

        var ids = new[] { await server.Next(), await server.Next(), await server.Next() }.Select(mail => mail.MessageId).ToList();
        Assert.Equal(ids[0], ids[1]);
        Assert.NotEqual(ids[0], ids[2]);
    }

    /// <summary>RFC 2369, section 3.2: the address in angle brackets; RFC 8058, section 3.1: the second field word for word, and only with HTTPS.</summary>
    [Theory]
    [InlineData("https://dock.example.org/b/stop/c3RvcA?lang=de", "List-Unsubscribe=One-Click")]
    [InlineData("http://127.0.0.1:8470/b/stop/c3RvcA?lang=de", null)]
    [InlineData("mailto:dock@example.org", null)]
    public async Task A_mail_to_a_boater_has_a_way_out_in_its_head_and_at_its_end(string address, string? oneClick)
    {
        await using var server = MailServer.Start();
        await Notifier(server.Port).Tell(ToBoater(address), Ana, Cancel);
        var mail = await server.Next();

        Assert.Equal(($"<{address}>", oneClick), (mail.Headers["List-Unsubscribe"], mail.Headers["List-Unsubscribe-Post"]));
        Assert.EndsWith($"Niemand schwimmt an einem Steg mit Strom.\n\nNichts mehr bekommen: {address}", mail.TextBody!.TrimEnd().ReplaceLineEndings("\n"));
        Assert.StartsWith("[eastharbour, dringend] Neutralleiter", mail.Subject);
    }

    [Fact]
    public async Task Staff_is_in_the_file_of_settings_and_gets_no_such_way_out()
    {
        await using var server = MailServer.Start();
        await Notifier(server.Port).Tell(OpenNeutral(), Ana, Cancel);

        Assert.Null((await server.Next()).Headers["List-Unsubscribe"]);
    }

    [Fact]
    public async Task Letters_of_every_language_arrive()
    {
        await using var server = MailServer.Start();
        await Notifier(server.Port).Tell(OpenNeutral() with { Headline = "Der Nullleiter von Ω7 ist offen — 開" }, Ana, Cancel);

        Assert.Equal("[eastharbour, high] Der Nullleiter von Ω7 ist offen — 開", (await server.Next()).Subject);
    }

    [Fact]
    public async Task A_password_is_given_to_a_server_that_wants_one()
    {
        await using var server = MailServer.Start(password: "right");

        Assert.IsType<TellingOutcome.Delivered>(await Notifier(server.Port, password: "right").Tell(OpenNeutral(), Ana, Cancel));
        Assert.Equal("dock", server.Login);
        var refused = Assert.IsType<TellingOutcome.TryAgain>(await Notifier(server.Port, password: "not-this-one").Tell(OpenNeutral(), Ana, Cancel));
        Assert.DoesNotContain("not-this-one", refused.ToString());
    }

    [Theory]
    [InlineData(SmtpReplyCode.InsufficientStorage, true)]
    [InlineData(SmtpReplyCode.ServiceUnavailable, true)]
    [InlineData(SmtpReplyCode.TransactionFailed, false)]
    [InlineData(SmtpReplyCode.SizeLimitExceeded, false)]
    public async Task Each_refusal_says_whether_to_try_again(SmtpReplyCode code, bool again)
    {
        await using var server = MailServer.Start();
        server.Answer = new SmtpResponse(code, "not now");

        var outcome = await Notifier(server.Port).Tell(OpenNeutral(), Ana, Cancel);
        Assert.Equal(again, outcome is TellingOutcome.TryAgain);
        Assert.Equal(!again, outcome is TellingOutcome.Never { IsGone: false });
    }

    [Fact]
    public async Task A_mailbox_that_is_not_there_is_gone()
    {
        await using var server = MailServer.Start();
        server.TakesRecipient = () => false;

        Assert.True(Assert.IsType<TellingOutcome.Never>(await Notifier(server.Port).Tell(OpenNeutral(), Ana, Cancel)).IsGone);
    }

    [Fact]
    public async Task Nothing_is_said_to_a_server_whose_certificate_nobody_trusts()
    {
        await using var server = MailServer.Start(withTls: true, password: "right");

        var outcome = await Notifier(server.Port, MailTls.StartTls, "right").Tell(OpenNeutral(), Ana, Cancel);
        Assert.Contains("certificate", Assert.IsType<TellingOutcome.TryAgain>(outcome).Why);
        Assert.Null(server.Login);
    }

    [Fact]
    public async Task Nothing_is_said_in_plain_where_encryption_was_asked_for()
    {
        await using var server = MailServer.Start(password: "right");

        Assert.IsType<TellingOutcome.TryAgain>(await Notifier(server.Port, MailTls.StartTls, "right").Tell(OpenNeutral(), Ana, Cancel));
        Assert.Null(server.Login);
    }

    [Fact]
    public async Task A_server_that_says_nothing_or_is_not_there_is_tried_again()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        var port = ((IPEndPoint)listener.LocalEndpoint).Port;
        Assert.Contains("not done within", Assert.IsType<TellingOutcome.TryAgain>(await Notifier(port, within: Briefly).Tell(OpenNeutral(), Ana, Cancel)).Why);

        listener.Stop();
        Assert.IsType<TellingOutcome.TryAgain>(await Notifier(port).Tell(OpenNeutral(), Ana, Cancel));
    }

    [Fact]
    public async Task What_is_no_mail_address_is_gone() =>
        Assert.True(Assert.IsType<TellingOutcome.Never>(await Notifier(1).Tell(OpenNeutral(), new(Channel.Mail, "ana@@"), Cancel)).IsGone);
}
