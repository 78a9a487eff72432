using Farberth.Adapters.Notifiers;
using Farberth.Adapters.Notifiers.Email;
using Farberth.Adapters.Notifiers.WebPush;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telling;
using Farberth.Service.Telling;

namespace Farberth.Cli;

/// <summary>The file that says whom to tell, with the secrets that it names.</summary>
static class NotifyFiles
{
    /// <exception cref="CommandFailure">A file cannot be read or has mistakes, or a secret is not there.</exception>
    public static NotifyOptions Read(string path, SiteDefinition site)
    {
        var result = NotifyFile.Read(InputFiles.Text(path), site);
        if (result.Settings is not { } settings)
            throw CommandFailure.BadInput([.. result.Mistakes.Select(mistake => InputFiles.Line(path, mistake))]);
        return new(
            settings.People, settings.Mail is { } mail ? Mail(path, mail) : null, Secret(path, settings.WebhookKey),
            settings.Push is { } push ? Push(path, push) : null);
    }

    static MailOptions Mail(string path, MailSettings mail) => new(mail.Host, mail.Port, mail.From)
    {
        Tls = mail.Tls switch { "none" => MailTls.None, "tls" => MailTls.Implicit, _ => MailTls.StartTls },
        User = mail.User,
        Password = Secret(path, mail.Password),
    };

    static PushOptions Push(string path, PushSettings push)
    {
        var options = new PushOptions(Secret(path, push.Key)!, push.Subject);
        try
        {
            using var key = VapidKey.Read(options.Key, options.Subject);
            return options;
        }
        catch (FormatException e)
        {
            throw CommandFailure.BadInput($"{path}: {e.Message}");
        }
    }

    static Secret? Secret(string path, SecretSource? source)
    {
        if (source == null)
            return null;
        var text = source.Variable is { } name ? Environment.GetEnvironmentVariable(name)
            : InputFiles.Text(Path.Combine(Path.GetDirectoryName(Path.GetFullPath(path))!, source.File!)).Trim();
        return !string.IsNullOrEmpty(text) ? new Secret(text) : throw CommandFailure.BadInput(
            $"{path}: {(source.Variable != null ? $"the environment variable {source.Variable} is not set" : $"{source.File} is empty")}");
    }
}
