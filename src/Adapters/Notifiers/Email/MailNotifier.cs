using System.Net.Sockets;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telling;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;

namespace Farberth.Adapters.Notifiers.Email;

/// <summary>Sends each notice as a mail, over a connection of its own.</summary>
/// <param name="within">How long all of it may take.</param>
public sealed class MailNotifier(MailOptions options, TimeProvider time, TimeSpan within) : INotifier
{
    readonly MailboxAddress from = MailboxAddress.Parse(options.From);

    public Channel Channel => Channel.Mail;

    public bool IsForReading => true;

    public async ValueTask<TellingOutcome> Tell(Notice notice, Address address, CancellationToken cancel)
    {
        if (!MailboxAddress.TryParse(address.Endpoint, out var to))
            return new TellingOutcome.Never("the address is no mail address", IsGone: true);
        return await Try(NoticeMail.Of(notice, from, to, time.GetUtcNow()), cancel).ConfigureAwait(false);
    }

    /// <summary>A mail that tells of no event, as a question to whoever reads the address.</summary>
    public async ValueTask<TellingOutcome> Send(string subject, string text, string address, CancellationToken cancel)
    {
        if (!MailboxAddress.TryParse(address, out var to))
            return new TellingOutcome.Never("the address is no mail address", IsGone: true);
        return await Try(NoticeMail.Plain(subject, text, from, to, time.GetUtcNow()), cancel).ConfigureAwait(false);
    }

    async ValueTask<TellingOutcome> Try(MimeMessage message, CancellationToken cancel)
    {
        using var timeOut = new CancellationTokenSource(within, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(timeOut.Token, cancel);
        try
        {
            await Send(message, either.Token).ConfigureAwait(false);
            return new TellingOutcome.Delivered();
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            return new TellingOutcome.TryAgain($"the mail server was not done within {within.TotalSeconds:0.#} s");
        }
        catch (SmtpCommandException e)
        {
            return Refused(e);
        }
        catch (AuthenticationException)
        {
            // Not the message: servers repeat what they were sent. Somebody will put the password right.
            return new TellingOutcome.TryAgain("the mail server does not take user and password");
        }
        catch (SslHandshakeException)
        {
            return new TellingOutcome.TryAgain("no encrypted connection with the mail server: its certificate is not trusted, or it cannot do that");
        }
        catch (Exception e) when (e is IOException or SocketException or ProtocolException or ServiceNotConnectedException or NotSupportedException or System.TimeoutException)
        {
            return new TellingOutcome.TryAgain($"the mail server: {e.Message}");
        }
    }

    async Task Send(MimeMessage message, CancellationToken cancel)
    {
        // A dock's line may reach no revocation list, and an alarm must not wait for one.
        using var client = new SmtpClient { CheckCertificateRevocation = false };
        await client.ConnectAsync(options.Host, options.Port, Socket(options.Tls), cancel).ConfigureAwait(false);
        if (options is { User: { } user, Password: { } password })
            await client.AuthenticateAsync(user, password.Reveal(), cancel).ConfigureAwait(false);
        await client.SendAsync(message, cancel).ConfigureAwait(false);
        try
        {
            await client.DisconnectAsync(quit: true, cancel).ConfigureAwait(false);
        }
        catch (Exception e) when (e is IOException or SocketException or ProtocolException or SmtpCommandException or OperationCanceledException)
        {
            // The server has the mail; how it says good-bye does not matter.
        }
    }

    static SecureSocketOptions Socket(MailTls tls) => tls switch
    {
        MailTls.StartTls => SecureSocketOptions.StartTls,
        MailTls.Implicit => SecureSocketOptions.SslOnConnect,
        _ => SecureSocketOptions.None,
    };

    /// <summary>RFC 5321, section 4.2.1: 4yz may succeed later, 5yz will not; 550, 551 and 553 to a recipient: nobody is there.</summary>
    static TellingOutcome Refused(SmtpCommandException e)
    {
        var why = $"the mail server answers {(int)e.StatusCode}";
        return (int)e.StatusCode is >= 400 and < 500 ? new TellingOutcome.TryAgain(why)
            : new TellingOutcome.Never(why, e.ErrorCode == SmtpErrorCode.RecipientNotAccepted && (int)e.StatusCode is 550 or 551 or 553);
    }
}
