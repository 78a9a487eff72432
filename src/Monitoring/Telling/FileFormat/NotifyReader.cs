using System.Text.RegularExpressions;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Site.FileFormat;

namespace Farberth.Monitoring.Telling.FileFormat;

/// <summary>The means: mail server, webhooks' key, Web Push.</summary>
sealed partial class NotifyReader(ValueReader read, SiteDefinition site)
{
    static readonly KeySet File = new("notify", ["people"], ["mail", "webhook", "push"]);
    static readonly KeySet Mail = new("mail", ["server", "from"], ["tls", "user", "password"]);
    static readonly KeySet Webhook = new("webhook", ["key"], []);
    static readonly KeySet Push = new("push", ["key", "subject"], []);
    static readonly KeySet Secret = new("secret", [], ["env", "file"]);

    const int SubmissionPort = 587; // RFC 6409

    public NotifySettings Read(YamlValue root)
    {
        var fields = read.Fields(root, File);
        var mail = fields["mail"] is { } server ? ReadMail(server) : null;
        var key = fields["webhook"] is { } webhook ? ReadSecret(read.Fields(webhook, Webhook)["key"]) : null;
        var push = fields["push"] is { } settings ? ReadPush(settings) : null;
        return new(new PeopleReader(read, site, mail != null, push != null).Read(fields["people"]), mail, key, push);
    }

    MailSettings ReadMail(YamlValue value)
    {
        var fields = read.Fields(value, Mail);
        var (host, port) = Server(fields["server"]);
        var tls = fields["tls"] is { } how ? read.Choice(how, [.. NotifyFile.TlsWords.Select((word, index) => (word, index))]) ?? 0 : 0;
        var mail = new MailSettings(
            host, port, read.Text(fields["from"]) ?? "", NotifyFile.TlsWords[tls], read.Text(fields["user"]), ReadSecret(fields["password"]));
        if (fields["from"] is { } from && !PeopleReader.IsMailAddress(mail.From))
            read.Wrong(from.At, $"{Spelling.Quote(mail.From)} is no mail address.");
        if ((mail.User == null) != (mail.Password == null))
            read.Wrong(value.At, "'user' and 'password' go together; write both or none.");
        if (mail is { Tls: "none", Password: not null } && host is not ("localhost" or "127.0.0.1" or "[::1]"))
            read.Wrong(value.At, "A password is not sent without encryption to another machine; use 'tls: starttls' or 'tls: tls'.");
        return mail;
    }

    (string Host, int Port) Server(YamlValue? value)
    {
        if (read.Text(value) is not { } text)
            return ("", SubmissionPort);
        if (HostAndPort().Match(text) is { Success: true } match
            && (match.Groups["port"] is not { Success: true } given || (int.TryParse(given.Value, out var number) && number is > 0 and <= 65535)))
            return (match.Groups["host"].Value, match.Groups["port"].Success ? int.Parse(match.Groups["port"].Value, null) : SubmissionPort);
        read.Wrong(value!.At, $"{Spelling.Quote(text)} is no mail server; write host or host:port.");
        return ("", SubmissionPort);
    }

    PushSettings? ReadPush(YamlValue value)
    {
        var fields = read.Fields(value, Push);
        var (key, subject) = (ReadSecret(fields["key"]), read.Text(fields["subject"]));
        // RFC 8292, section 2.1.
        if (subject != null && !subject.StartsWith("mailto:", StringComparison.Ordinal) && !subject.StartsWith("https://", StringComparison.Ordinal))
            read.Wrong(fields["subject"]!.At, "The subject must begin with 'mailto:' or 'https://': push services ask there when something is wrong.");
        return key == null || subject == null ? null : new(key, subject);
    }

    SecretSource? ReadSecret(YamlValue? value)
    {
        if (value is null or YamlBroken)
            return null;
        if (value is not YamlMap)
        {
            read.Wrong(value.At, "A secret does not stand in this file: write { env: NAME_OF_A_VARIABLE } or { file: PATH }.");
            return null;
        }
        var fields = read.Fields(value, Secret);
        var source = new SecretSource(read.Text(fields["env"]), read.Text(fields["file"]));
        if ((source.Variable == null) == (source.File == null))
            read.Wrong(value.At, "Write either 'env' or 'file'.");
        return source;
    }

    [GeneratedRegex(@"^(?<host>[A-Za-z0-9.-]+|\[[0-9a-fA-F:]+\])(:(?<port>\d{1,5}))?\z")]
    private static partial Regex HostAndPort();
}
