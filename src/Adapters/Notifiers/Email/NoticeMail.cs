using System.Security.Cryptography;
using System.Text;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Telling;
using MimeKit;

namespace Farberth.Adapters.Notifiers.Email;

/// <summary>A notice as a mail of plain text: the sentence as its subject, the caution and the way out at its end.</summary>
static class NoticeMail
{
    public static MimeMessage Of(Notice notice, MailboxAddress from, MailboxAddress to, DateTimeOffset now)
    {
        var urgent = notice.Priority == Priority.High;
        var text = string.Join("\n\n", new[] { notice.Text, notice.Caution, notice.WayOut?.Sentence }.OfType<string>());
        var message = Plain($"[{notice.Site}{(urgent ? $", {notice.High}" : "")}] {notice.Headline}", text, from, to, now);
        message.MessageId = $"{Name(notice, to)}@{from.Domain}";
        message.Importance = urgent ? MessageImportance.High : MessageImportance.Normal;
        if (notice.WayOut is { Address: var stop })
            AddWayOut(message, stop);
        return message;
    }

    /// <summary>
    /// RFC 2369, section 3.2, and RFC 8058, section 3.1: mail programs show a button of their own, and may press it with one POST where the
    /// address is of HTTPS. They do so only where the mail server signs both fields (DKIM).
    /// </summary>
    static void AddWayOut(MimeMessage message, Uri stop)
    {
        message.Headers.Add(HeaderId.ListUnsubscribe, $"<{stop.AbsoluteUri}>");
        if (stop.Scheme == Uri.UriSchemeHttps)
            message.Headers.Add("List-Unsubscribe-Post", "List-Unsubscribe=One-Click");
    }

    /// <summary>With a name of its own.</summary>
    public static MimeMessage Plain(string subject, string text, MailboxAddress from, MailboxAddress to, DateTimeOffset now)
    {
        var message = new MimeMessage { Subject = subject, Date = now, Body = new TextPart("plain") { Text = text + "\n" } };
        message.From.Add(from);
        message.To.Add(to);
        // RFC 3834: no automatic answers to this one.
        message.Headers.Add("Auto-Submitted", "auto-generated");
        return message;
    }

    /// <summary>The same for the same notice, so that a mail that is sent twice may be shown once.</summary>
    static string Name(Notice notice, MailboxAddress to) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{notice.Site} {notice.Id} {to.Address}"))[..16]);
}
